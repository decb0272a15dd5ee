import type { FastifyInstance } from 'fastify';
import { allowOrigins } from './cors.js';
import { guard } from './guard.js';
import { createThrottle, type RateLimit } from './throttle.js';
import type { TokenEntry } from './tokens.js';

/** Who is let in, and how often. */
export interface Access {
  /** With any, a token is demanded of everybody. */
  readonly tokens: readonly TokenEntry[];
  /** Addresses of proxies whose `X-Forwarded-For` is believed. */
  readonly trustProxy: readonly string[];
  /** Origins whose pages may read the answers. */
  readonly allowedOrigins: readonly string[];
  /** Null for none. */
  readonly rateLimit: RateLimit | null;
}

/** As on the loopback address, unless told otherwise. */
export const EVERYBODY: Access = { tokens: [], trustProxy: [], allowedOrigins: [], rateLimit: null };

export async function controlAccess(app: FastifyInstance, access: Access): Promise<void> {
  await allowOrigins(app, access.allowedOrigins);
  const throttle = await createThrottle(app, access.rateLimit);
  guard(app, { tokens: access.tokens, throttle });
}
