import type { FastifyInstance, FastifyRequest } from 'fastify';
import { RequestError } from '../problems.js';
import type { Throttle } from './throttle.js';
import { entryOf, type Role, type TokenEntry } from './tokens.js';

const METRICS_ROUTE = '/metrics';
/** The scheme in any case, one space at least, the characters of a token (RFC 6750, section 2.1). */
const BEARER = /^bearer +([\w.~+/-]+=*)$/i;

export interface GuardOptions {
  readonly tokens: readonly TokenEntry[];
  readonly throttle: Throttle;
}

/**
 * Decides who is let in, before any of the body is read. Without tokens that is everybody. An address that does not exist
 * takes a token too, so that what there is cannot be found out without one.
 */
export function guard(app: FastifyInstance, { tokens, throttle }: GuardOptions): void {
  app.addHook('onRequest', async (request, reply) => {
    const { url: route, config } = request.routeOptions;
    if (config?.isOpen) return;
    const entry = tokens.length === 0 ? undefined : await authenticated(request, { tokens, throttle });
    if (entry !== undefined) {
      request.log = reply.log = request.log.child({ token: entry.name });
      if (route !== undefined) refuseWithoutRole(entry, route === METRICS_ROUTE ? 'metrics' : 'audit');
    }
    if (request.method === 'POST' && config?.form !== undefined) await throttle.countAudit(request, entry?.name);
  });
}

async function authenticated(request: FastifyRequest, { tokens, throttle }: GuardOptions): Promise<TokenEntry> {
  await throttle.refuseGuesser(request);
  const { authorization } = request.headers;
  const [, token] = BEARER.exec(authorization ?? '') ?? [];
  const entry = token === undefined ? undefined : entryOf(token, tokens);
  if (entry !== undefined) return entry;
  await throttle.countFailure(request);
  throw authorization === undefined ? tokenMissing() : tokenNotValid();
}

function tokenMissing(): RequestError {
  return new RequestError('token-missing', 'send a token of this service, as "Authorization: Bearer TOKEN"', {
    'www-authenticate': 'Bearer',
  });
}

function tokenNotValid(): RequestError {
  const detail = 'the header Authorization has to be "Bearer TOKEN", with a token that this service knows';
  return new RequestError('token-not-valid', detail, { 'www-authenticate': 'Bearer error="invalid_token"' });
}

function refuseWithoutRole({ name, roles }: TokenEntry, role: Role): void {
  if (roles.includes(role)) return;
  const detail = `the token "${name}" has not the role "${role}", which this takes; use another, or give it the role`;
  const challenge = `Bearer error="insufficient_scope", scope="${role}"`;
  throw new RequestError('role-missing', detail, { 'www-authenticate': challenge });
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Answered to anybody: what watches the process from outside, and pages that hold nothing of anybody's. */
    readonly isOpen?: true;
  }
}
