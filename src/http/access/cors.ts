import type { FastifyInstance } from 'fastify';

/** How long a browser may remember the answer to its preflight. */
const PREFLIGHT_AGE_S = 600;

/**
 * Lets pages of the origins listed read the answers; of no other. Stands before the guard, as a browser sends its
 * preflight without a token, and a page has to be able to read why it was refused.
 */
export async function allowOrigins(app: FastifyInstance, origins: readonly string[]): Promise<void> {
  if (origins.length === 0) return;
  const isListed = (origin: string | undefined) => origin !== undefined && origins.includes(origin);
  // Not every service takes it, and it would hold up the start.
  const { default: cors } = await import('@fastify/cors');
  app.addHook('onRequest', async ({ headers: { origin } }, reply) => {
    if (isListed(origin)) reply.header('cross-origin-resource-policy', 'cross-origin');
  });
  await app.register(cors, {
    origin: (origin, done) => done(null, isListed(origin) ? (origin as string) : false),
    methods: ['GET', 'HEAD', 'POST'],
    allowedHeaders: ['Authorization', 'Content-Type'],
    exposedHeaders: ['request-id', 'retry-after', 'www-authenticate'],
    maxAge: PREFLIGHT_AGE_S,
    strictPreflight: false, // it would answer in plain text
  });
}
