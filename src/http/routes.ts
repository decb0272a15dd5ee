import { readFileSync } from 'node:fs';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { LIMITS, type Limits } from '../limits.js';
import { dayOf } from '../policy/day.js';
import { policyJsonSchema } from '../policy/json-schema.js';
import { reportRule } from '../report/build.js';
import { reportJsonSchema } from '../report/json-schema.js';
import { RULES } from '../rules/index.js';
import { admission, whileConnected } from './admission.js';
import { sendProblem } from './answer.js';
import { askedOf, contentType } from './asked.js';
import { AUDIT_FORM } from './forms.js';
import type { AuditRunner } from './pool.js';
import { RequestError } from './problems.js';
import { readUpload, refuseOtherTypes, requireFile } from './upload.js';

export interface RouteOptions {
  readonly audits: AuditRunner;
  readonly limits: Limits;
  /** A hook that refuses new work while the service stops. */
  readonly refuseWhenStopping: () => Promise<void>;
}

const OPENAPI = readFileSync(new URL('../../openapi.yaml', import.meta.url), 'utf8');
const SCHEMAS: ReadonlyMap<string, () => object> = new Map([
  ['report', reportJsonSchema],
  ['policy', policyJsonSchema],
]);

export function addRoutes(app: FastifyInstance, options: RouteOptions): void {
  addAudits(app, options);
  addDescriptions(app, options);
  addHealth(app, options);
}

function addAudits(app: FastifyInstance, { audits, limits, refuseWhenStopping }: RouteOptions): void {
  const onRequest = [refuseWhenStopping, refuseOtherTypes, refuseUnknownWishes, admission(audits, limits)];
  app.post('/v1/audits', { onRequest, config: { form: AUDIT_FORM } }, async (request, reply) => {
    const asked = askedOf(request, dayOf(new Date()));
    const files = await readUpload(request, limits);
    requireFile(files, 'archive');
    const outcome = await audits.run({ files: Object.fromEntries(files), asked, limits }, whileConnected(reply));
    if ('problem' in outcome) return sendProblem(reply, outcome.problem);
    for (const failure of outcome.ruleFailures) request.log.error(failure, 'a rule failed');
    return reply.type(contentType(asked.format)).send(outcome.body);
  });
}

/** Refuses, before the body is sent, a request for what there is not. */
async function refuseUnknownWishes(request: FastifyRequest): Promise<void> {
  askedOf(request, dayOf(new Date()));
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
