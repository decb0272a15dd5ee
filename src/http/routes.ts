import { readFileSync } from 'node:fs';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { LIMITS, type Limits } from '../limits.js';
import { reportRule } from '../report/build.js';
import { FORMAT_NAMES, FORMATS, type FormatName } from '../report/format/index.js';
import { reportJsonSchema } from '../report/json-schema.js';
import { RULES } from '../rules/index.js';
import { admission, whileConnected } from './admission.js';
import { sendProblem } from './answer.js';
import type { AuditRunner } from './pool.js';
import { RequestError } from './problems.js';
import { readUpload, refuseOtherTypes } from './upload.js';

export interface RouteOptions {
  readonly audits: AuditRunner;
  readonly limits: Limits;
  /** A hook that refuses new work while the service stops. */
  readonly refuseWhenStopping: () => Promise<void>;
}

const OPENAPI = readFileSync(new URL('../../openapi.yaml', import.meta.url), 'utf8');
const SCHEMAS: ReadonlyMap<string, () => object> = new Map([['report', reportJsonSchema]]);

export function addRoutes(app: FastifyInstance, options: RouteOptions): void {
  addAudits(app, options);
  addDescriptions(app, options);
  addHealth(app, options);
}

function addAudits(app: FastifyInstance, { audits, limits, refuseWhenStopping }: RouteOptions): void {
  const onRequest = [refuseWhenStopping, refuseOtherTypes, refuseOtherFormats, admission(audits, limits)];
  app.post('/v1/audits', { onRequest }, async (request, reply) => {
    const name = formatFor(request);
    const file = await readUpload(request, limits);
    const outcome = await audits.run({ file, format: name, limits }, whileConnected(reply));
    if ('problem' in outcome) return sendProblem(reply, outcome.problem);
    for (const failure of outcome.ruleFailures) request.log.error(failure, 'a rule failed');
    return reply.type(contentType(name)).send(outcome.body);
  });
}

/** Refuses, before the body is sent, a request for a report in a form that there is not. */
async function refuseOtherFormats(request: FastifyRequest): Promise<void> {
  formatFor(request);
}

function formatFor(request: FastifyRequest): FormatName {
  const name = FORMAT_NAMES.find((one) => contentType(one) === request.type(FORMAT_NAMES.map(contentType)));
  if (name !== undefined) return name;
  const offered = new Set(FORMAT_NAMES.map((one) => FORMATS[one].mediaType));
  throw new RequestError('not-acceptable', `the report comes as ${[...offered].join(', ')}`);
}

function contentType(name: FormatName): string {
  return `${FORMATS[name].mediaType}; charset=utf-8`;
}

function addDescriptions(app: FastifyInstance, { limits }: RouteOptions): void {
  const rules = RULES.map((rule) => reportRule(rule));
  app.get('/v1/rules', async () => ({ rules }));
  app.get<{ Params: { id: string } }>('/v1/rules/:id', async ({ params }) => {
    const rule = rules.find(({ id }) => id === params.id);
    if (rule === undefined) throw new RequestError('rule-not-known', 'GET /v1/rules lists the rules there are');
    return rule;
  });
  app.get('/v1/limits', async () => ({
    limits: Object.entries(LIMITS).map(([name, { least, most, unit, bounds }]) => ({
      name,
      value: limits[name as keyof Limits],
      least,
      most,
      unit,
      bounds,
    })),
  }));
  app.get<{ Params: { name: string } }>('/v1/schemas/:name', async ({ params }, reply) => {
    const schema = SCHEMAS.get(params.name);
    if (schema === undefined)
      throw new RequestError('schema-not-known', `there are: ${[...SCHEMAS.keys()].join(', ')}`);
    return reply.type('application/schema+json').send(JSON.stringify(schema()));
  });
  app.get('/openapi.yaml', async (_request, reply) => reply.type('application/yaml; charset=utf-8').send(OPENAPI));
}

function addHealth(app: FastifyInstance, { audits, refuseWhenStopping }: RouteOptions): void {
  app.get('/healthz', async () => ({ status: 'alive' }));
  app.get('/readyz', { onRequest: refuseWhenStopping }, async () => {
    if (!audits.isReady()) throw new RequestError('starting', 'the threads for audits have not started yet');
    return { status: 'ready' };
  });
}
