import { isIP } from 'node:net';
import type { FastifyBaseLogger, FastifyRequest } from 'fastify';
import { faultText } from './fault.js';

/**
 * How requests and faults are written to the log. Of what a client sends, only the method, the route that it reached and
 * its address: not the address that was asked for (paths and queries may hold anything), and no header.
 */
const SERIALIZERS = {
  req: ({ method, routeOptions, ip }: FastifyRequest) => ({
    method,
    route: routeOptions.url ?? null,
    client: isIP(ip) ? ip : null, // a proxy may pass on whatever a client put in its place
  }),
  err: (error: unknown) => faultText(error),
  // The form's reader logs its options at the finest level, and with them every header.
  busboyOptions: () => undefined,
};

/** The same log, told what of a request it may hold. */
export function withoutContent(logger: FastifyBaseLogger): FastifyBaseLogger {
  return logger.child({}, { serializers: SERIALIZERS });
}
