import type { ServerResponse } from 'node:http';
import type { FastifyInstance } from 'fastify';
import type { Limits } from '../limits.js';
import { EVENT_STREAM } from './events.js';

/** What node is told of the limits on connections and requests. */
export function timing({ requestSeconds, headerSeconds, headerBytes, idleSeconds }: Limits) {
  const requestTimeout = requestSeconds * 1000;
  return {
    requestTimeout,
    keepAliveTimeout: idleSeconds * 1000,
    http: {
      maxHeaderSize: headerBytes,
      headersTimeout: Math.min(headerSeconds * 1000, requestTimeout),
      connectionsCheckingInterval: checkingInterval(Math.min(headerSeconds, requestSeconds)),
    },
  };
}

/** Node looks for late requests in intervals: a tenth of the time, within reason, is how late it may be. */
function checkingInterval(seconds: number): number {
  return Math.min(Math.max(seconds * 100, 250), 5000);
}

/** Bounds what node has no bound for: connections at once, and the time that a client takes to read its answer. */
export function boundConnections(app: FastifyInstance, limits: Limits): void {
  app.server.maxConnections = limits.connections;
  app.addHook('onSend', async (_request, reply) => {
    const isStream = String(reply.getHeader('content-type')).startsWith(EVENT_STREAM);
    if (!isStream) boundAnswer(reply.raw, limits); // a stream is, from its last event on
  });
}

/** Bounds the time that a client takes to read what is left of its answer, of which there is nothing to come. */
export function boundAnswer(raw: ServerResponse, { answerSeconds }: Limits): void {
  const late = setTimeout(() => raw.destroy(), answerSeconds * 1000).unref();
  raw.once('close', () => clearTimeout(late));
}
