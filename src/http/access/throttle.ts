import type { FastifyInstance, FastifyRequest } from 'fastify';
import { RequestError } from '../problems.js';

export interface RateLimit {
  /** Of audits by one client, and of requests without a valid token from one address. */
  readonly requestsPerMinute: number;
}

/** Each throws where a client has had its share of the current minute. */
export interface Throttle {
  /** Counts an audit, by its token or else by its address. */
  countAudit(request: FastifyRequest, token: string | undefined): Promise<void>;
  /** Counts a request without a valid token. */
  countFailure(request: FastifyRequest): Promise<void>;
  /** Refuses all that comes from an address of too many failures, before a further token is looked at. */
  refuseGuesser(request: FastifyRequest): Promise<void>;
}

const FAILURES = 'requests without a valid token';
const WINDOW_MS = 60_000;

const nothing = async () => {};
const UNLIMITED: Throttle = { countAudit: nothing, countFailure: nothing, refuseGuesser: nothing };

export async function createThrottle(app: FastifyInstance, limit: RateLimit | null): Promise<Throttle> {
  if (limit === null) return UNLIMITED;
  // Not every service takes it, and it would hold up the start.
  const { default: rateLimit, normalizeIP } = await import('@fastify/rate-limit');
  await app.register(rateLimit, { global: false, max: limit.requestsPerMinute, timeWindow: WINDOW_MS });
  return throttleOf(app, normalizeIP);
}

function throttleOf(app: FastifyInstance, normalized: (address: string) => string): Throttle {
  const clients = new WeakMap<FastifyRequest, string>();
  // A household or a machine has a whole /64 of IPv6 to send from, and counts as one.
  const addressOf = ({ ip }: FastifyRequest) => `address ${normalized(ip)}`;
  const audits = app.createRateLimit({ keyGenerator: (request) => clients.get(request) ?? addressOf(request) });
  const failures = app.createRateLimit({ keyGenerator: addressOf });
  return {
    async countAudit(request, token) {
      if (token !== undefined) clients.set(request, `token ${token}`);
      refuseOver(await audits(request), 'audits');
    },
    async countFailure(request) {
      refuseOver(await failures(request), FAILURES);
    },
    async refuseGuesser(request) {
      refuseOver(await failures(request, { increment: false }), FAILURES);
    },
  };
}

type Count = Awaited<ReturnType<ReturnType<FastifyInstance['createRateLimit']>>>;

function refuseOver(count: Count, what: string): void {
  if (count.isAllowed || !count.isExceeded) return;
  const seconds = String(Math.max(1, count.ttlInSeconds));
  const detail = `${count.max} ${what} a minute are let in from one client; try again in ${seconds} seconds`;
  throw new RequestError('too-many-requests', detail, { 'retry-after': seconds });
}
