import { randomUUID } from 'node:crypto';
import accepts from '@fastify/accepts';
import Fastify, {
  type FastifyBaseLogger,
  type FastifyError,
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
} from 'fastify';
import { InputError } from '../errors.js';
import { DEFAULT_LIMITS, type Limits } from '../limits.js';
import { LANGUAGES } from '../words/language.js';
import { type Access, controlAccess, EVERYBODY } from './access/access.js';
import { answerBroken, commonHeaders, refuseTunnels, sendProblem } from './answer.js';
import { refuseAmbiguous } from './framing.js';
import { tooLarge } from './gathered.js';
import { withoutContent } from './logging.js';
import { refuseUnknown } from './methods.js';
import { addMetrics } from './metrics.js';
import { addPages } from './page/routes.js';
import type { AuditRunner } from './pool.js';
import { inputProblem, type Problem, RequestError, requestProblem } from './problems.js';
import { addRoutes } from './routes.js';
import { stopInOrder } from './stopping.js';
import { boundConnections, timing } from './timing.js';
import { askForBodies, closeUnread, refuseExpectations } from './unread.js';
import { acceptUploads, whatToSend } from './upload.js';

export interface AppOptions {
  readonly audits: AuditRunner;
  readonly limits?: Limits;
  readonly access?: Access;
  /** False for none. */
  readonly logger: FastifyBaseLogger | false;
}

const RETRY_AFTER_S = '5';

/** The service without its socket: routes, uploads and errors. */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { audits, limits = DEFAULT_LIMITS, access = EVERYBODY, logger } = options;
  const { http, ...times } = timing(limits);
  const app: FastifyInstance = Fastify({
    ...(logger === false ? { logger: false } : { loggerInstance: withoutContent(logger) }),
    genReqId: () => randomUUID(),
    requestIdHeader: false,
    trustProxy: access.trustProxy.length > 0 && [...access.trustProxy],
    ...times,
    http: { ...http, requireHostHeader: false }, // without a problem document; see refuseAmbiguous
    schemaController: { compilersFactory: { buildValidator: noSchemas, buildSerializer: noSchemas } },
    forceCloseConnections: 'idle',
    return503OnClosing: false, // without a problem document; see stopInOrder
    frameworkErrors: (error, request, reply) => {
      reply.headers(commonHeaders(request.id));
      const problem = requestProblem('malformed-request', addressFault(error));
      return sendProblem(reply as FastifyReply, problem, LANGUAGES[0]); // nothing is known of such a request but its address
    },
    clientErrorHandler: answerBroken(limits),
  });
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(commonHeaders(request.id));
  });
  const refuseWhenStopping = stopInOrder(app);
  refuseAmbiguous(app);
  refuseTunnels(app);
  boundConnections(app, limits);
  closeUnread(app);
  askForBodies(app);
  refuseExpectations(app);
  answerProblems(app, limits);
  addMetrics(app, audits);
  await controlAccess(app, access);
  refuseUnknown(app);
  await app.register(accepts);
  await acceptUploads(app, limits);
  addRoutes(app, {
    audits,
    limits,
    refuseWhenStopping,
    problemOf: (error, request) => toldOf(error as Refused, request, limits),
  });
  addPages(app, { limits, asksToken: access.tokens.length > 0 });
  app.addHook('onClose', () => audits.close());
  return app;
}

/** No route has a schema; without what compiles them, which is large, the service starts much sooner. */
function noSchemas(): never {
  throw new Error('routes check their input themselves');
}

/** The framework would repeat the whole address, whatever is in it. */
function addressFault({ code }: FastifyError): string {
  return code === 'FST_ERR_MAX_PARAM_LENGTH'
    ? 'a name in the address is too long'
    : 'the address cannot be decoded: a % stands before two hexadecimal digits of UTF-8';
}

function answerProblems(app: FastifyInstance, limits: Limits): void {
  app.setErrorHandler<Refused>(async (error, request, reply) => {
    const problem = toldOf(error, request, limits);
    if (problem.status === 503) reply.header('retry-after', RETRY_AFTER_S);
    if (error instanceof RequestError) reply.headers(error.headers);
    return sendProblem(reply, problem);
  });
}

type Refused = FastifyError | InputError | RequestError;

/** What a request is told of an error; what is a fault of our own goes into the log. */
function toldOf(error: Refused, request: FastifyRequest, limits: Limits): Problem {
  const problem = problemOf(error, limits);
  if (problem.status >= 500 && !(error instanceof RequestError))
    request.log.error({ err: error }, 'a fault of our own');
  return problem;
}

/** What a request is told of an error: its own faults by name, ours without internals. */
function problemOf(error: Refused, { uploadBytes }: Limits): Problem {
  if (error instanceof InputError) return inputProblem(error);
  if (error instanceof RequestError) return requestProblem(error.code, error.detail);
  // Nobody is left to read the answer; it is no fault of ours, though.
  if (error.code === 'ECONNRESET')
    return requestProblem('malformed-request', 'the request ended before its announced end');
  const status = error.statusCode ?? 500;
  if (status === 413) return inputProblem(tooLarge(undefined, uploadBytes));
  if (status === 415) return requestProblem('unsupported-media-type', whatToSend());
  if (status >= 400 && status < 500) return requestProblem('malformed-request', error.message);
  return requestProblem('internal-fault', 'nothing was kept; try again, and report the request-id if it stays');
}
