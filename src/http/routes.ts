import { readFileSync } from 'node:fs';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { changesJsonSchema } from '../changes/json-schema.js';
import { LIMITS, type Limits } from '../limits.js';
import { dayOf } from '../policy/day.js';
import { policyJsonSchema, waiversJsonSchema } from '../policy/json-schema.js';
import { reportRule } from '../report/build.js';
import { comparisonJsonSchema } from '../report/compare/comparison.js';
import { COMPARISON_FORMATS } from '../report/compare/formats.js';
import { FORMATS } from '../report/format/index.js';
import { reportJsonSchema } from '../report/json-schema.js';
import { RULES, rulesIn } from '../rules/index.js';
import { siteSheetJsonSchema } from '../site/json-schema.js';
import { planJsonSchema } from '../tender/json-schema.js';
import { wordsOf } from '../words/language.js';
import { admission, whileConnected } from './admission.js';
import { sendProblem } from './answer.js';
import {
  askedOf,
  contentType,
  disposition,
  type Formats,
  languageAsked,
  languageHeaders,
  pageHeaders,
} from './asked.js';
import { AUDIT_SENDABLE, COMPARISON_FORM, PLAN_BODY, PLAN_FORM, type Sendable, WHAT_IF_FORM } from './forms.js';
import type { AuditRunner } from './pool.js';
import { RequestError } from './problems.js';
import { readUpload, refuseOtherTypes, requireFile } from './upload.js';
import type { Work } from './works.js';

export interface RouteOptions {
  readonly audits: AuditRunner;
  readonly limits: Limits;
  /** A hook that refuses new work while the service stops. */
  readonly refuseWhenStopping: () => Promise<void>;
}

const OPENAPI = readFileSync(new URL('../../openapi.yaml', import.meta.url), 'utf8');
const SCHEMAS: ReadonlyMap<string, () => object> = new Map([
  ['report', reportJsonSchema],
  ['comparison', comparisonJsonSchema],
  ['policy', policyJsonSchema],
  ['waivers', waiversJsonSchema],
  ['site', siteSheetJsonSchema],
  ['plan', planJsonSchema],
  ['changes', changesJsonSchema],
]);

export function addRoutes(app: FastifyInstance, options: RouteOptions): void {
  addWork(app, options);
  addDescriptions(app, options);
  addHealth(app, options);
}

/** A route that takes files and answers with what is made of them. */
interface WorkRoute extends Sendable {
  readonly work: Work;
  readonly formats: Formats;
  /** Fields of the form that there have to be. */
  readonly needed: readonly string[];
}

const WORK_ROUTES: Readonly<Record<string, WorkRoute>> = {
  '/v1/audits': { work: 'audit', ...AUDIT_SENDABLE, formats: FORMATS, needed: ['archive'] },
  '/v1/plans': { work: 'plan', form: PLAN_FORM, bare: PLAN_BODY, formats: FORMATS, needed: ['plan'] },
  '/v1/comparisons': {
    work: 'comparison',
    form: COMPARISON_FORM,
    bare: null,
    formats: COMPARISON_FORMATS,
    needed: ['old', 'new'],
  },
  '/v1/what-ifs': {
    work: 'whatIf',
    form: WHAT_IF_FORM,
    bare: null,
    formats: COMPARISON_FORMATS,
    needed: ['archive', 'changes'],
  },
};

function addWork(app: FastifyInstance, { audits, limits, refuseWhenStopping }: RouteOptions): void {
  const admit = admission(audits, limits);
  for (const [url, { work, form, bare, formats, needed }] of Object.entries(WORK_ROUTES)) {
    const asked = (request: FastifyRequest) => askedOf(request, formats, dayOf(new Date()), bare?.field);
    const refuseUnknownWishes = async (request: FastifyRequest) => void asked(request);
    const onRequest = [refuseWhenStopping, refuseOtherTypes, refuseUnknownWishes, admit];
    app.post(url, { onRequest, config: { form, bare } }, async (request, reply) => {
      const wishes = asked(request);
      const sent = await readUpload(request, limits);
      for (const field of needed) requireFile(sent, field);
      if (wishes.policy !== null && sent.has('policy')) {
        throw new RequestError(
          'malformed-request',
          'the address names a policy and the form holds one; keep one of them',
        );
      }
      const task = { work, files: Object.fromEntries(sent), asked: wishes, limits };
      const outcome = await audits.run(task, whileConnected(reply));
      if ('problem' in outcome) return sendProblem(reply, outcome.problem);
      for (const failure of outcome.ruleFailures) request.log.error(failure, 'a rule failed');
      if (formats[wishes.format]?.isForPeople) reply.headers(languageHeaders(reply, wishes.language));
      reply.headers({ ...disposition(wishes.format, formats), ...(await pageHeaders(wishes.format, formats)) });
      return reply.type(contentType(wishes.format, formats)).send(outcome.body);
    });
  }
}

function addDescriptions(app: FastifyInstance, { limits }: RouteOptions): void {
  const rulesFor = async (request: FastifyRequest, reply: FastifyReply) => {
    const language = languageAsked(request);
    reply.headers(languageHeaders(reply, language));
    return rulesIn(await wordsOf(language)).map((rule) => reportRule(rule));
  };
  app.get('/v1/rules', async (request, reply) => ({ rules: await rulesFor(request, reply) }));
  app.get<{ Params: { id: string } }>('/v1/rules/:id', async (request, reply) => {
    const rule = RULES.some(({ id }) => id === request.params.id)
      ? (await rulesFor(request, reply)).find(({ id }) => id === request.params.id)
      : undefined;
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
  const config = { isOpen: true } as const;
  app.get('/healthz', { config }, async () => ({ status: 'alive' }));
  app.get('/readyz', { config, onRequest: refuseWhenStopping }, async () => {
    if (!audits.isReady()) throw new RequestError('starting', 'the threads for audits have not started yet');
    return { status: 'ready' };
  });
}
