import { readFileSync } from 'node:fs';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { changesJsonSchema } from '../changes/json-schema.js';
import { LIMITS, type Limits } from '../limits.js';
import { dayOf } from '../policy/day.js';
import { policyJsonSchema, waiversJsonSchema } from '../policy/json-schema.js';
import type { OnProgress } from '../progress.js';
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
  type Answers,
  type Asked,
  askedOf,
  contentType,
  disposition,
  languageAsked,
  languageHeaders,
  pageHeaders,
} from './asked.js';
import { AUDIT_SENDABLE, COMPARISON_FORM, PLAN_BODY, PLAN_FORM, type Sendable, WHAT_IF_FORM } from './forms.js';
import { type AuditRunner, lineIsFull } from './pool.js';
import { type Problem, RequestError } from './problems.js';
import { answerInEvents } from './streaming.js';
import { readUpload, refuseOtherTypes, requireFile } from './upload.js';
import type { AuditDone, AuditTask } from './worker.js';
import type { Work } from './works.js';

export interface RouteOptions {
  readonly audits: AuditRunner;
  readonly limits: Limits;
  /** A hook that refuses new work while the service stops. */
  readonly refuseWhenStopping: () => Promise<void>;
  /** What a request is told of an error. */
  readonly problemOf: (error: unknown, request: FastifyRequest) => Problem;
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
interface WorkRoute extends Sendable, Answers {
  readonly work: Work;
  /** Fields of the form that there have to be. */
  readonly needed: readonly string[];
}

const WORK_ROUTES: Readonly<Record<string, WorkRoute>> = {
  '/v1/audits': { work: 'audit', ...AUDIT_SENDABLE, formats: FORMATS, tellsProgress: true, needed: ['archive'] },
  '/v1/plans': {
    work: 'plan',
    form: PLAN_FORM,
    bare: PLAN_BODY,
    formats: FORMATS,
    tellsProgress: true,
    needed: ['plan'],
  },
  '/v1/comparisons': {
    work: 'comparison',
    form: COMPARISON_FORM,
    bare: null,
    formats: COMPARISON_FORMATS,
    tellsProgress: false,
    needed: ['old', 'new'],
  },
  '/v1/what-ifs': {
    work: 'whatIf',
    form: WHAT_IF_FORM,
    bare: null,
    formats: COMPARISON_FORMATS,
    tellsProgress: false,
    needed: ['archive', 'changes'],
  },
};

function addWork(app: FastifyInstance, options: RouteOptions): void {
  const { audits, limits, refuseWhenStopping } = options;
  const admit = admission(audits, limits);
  for (const [url, route] of Object.entries(WORK_ROUTES)) {
    const { form, bare } = route;
    const asked = (request: FastifyRequest) => askedOf(request, route, dayOf(new Date()), bare?.field);
    const refuseUnknownWishes = async (request: FastifyRequest) => void asked(request);
    const onRequest = [refuseWhenStopping, refuseOtherTypes, refuseUnknownWishes, admit];
    app.post(url, { onRequest, config: { form, bare } }, async (request, reply) => {
      const task = await taskOf(request, route, asked(request), limits);
      return answerWork(request, reply, task, route, options);
    });
  }
}

async function taskOf(
  request: FastifyRequest,
  { work, needed }: WorkRoute,
  asked: Asked,
  limits: Limits,
): Promise<AuditTask> {
  const sent = await readUpload(request, limits);
  for (const field of needed) requireFile(sent, field);
  if (asked.policy !== null && sent.has('policy')) {
    throw new RequestError('malformed-request', 'the address names a policy and the form holds one; keep one of them');
  }
  return { work, files: Object.fromEntries(sent), asked, limits };
}

/** Has the work done, and answers with what is made, or with events. */
async function answerWork(
  request: FastifyRequest,
  reply: FastifyReply,
  task: AuditTask,
  { formats }: WorkRoute,
  { audits, limits, problemOf }: RouteOptions,
): Promise<unknown> {
  const { format, language, asEvents } = task.asked;
  const run = (onProgress?: OnProgress) => audits.run(task, whileConnected(reply), onProgress);
  const logFailures = ({ ruleFailures }: AuditDone) => {
    for (const failure of ruleFailures) request.log.error(failure, 'a rule failed');
  };
  const headers = formats[format]?.isForPeople ? languageHeaders(reply, language) : {};
  if (asEvents) {
    if (audits.isFull()) throw lineIsFull(); // while it can still be told by the status
    reply.headers(headers);
    return answerInEvents(request, reply, { run, onDone: logFailures, problemOf, limits });
  }
  const outcome = await run();
  if ('problem' in outcome) return sendProblem(reply, outcome.problem);
  logFailures(outcome);
  reply.headers({ ...headers, ...disposition(format, formats), ...(await pageHeaders(format, formats)) });
  return reply.type(contentType(format, formats)).send(outcome.body);
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
