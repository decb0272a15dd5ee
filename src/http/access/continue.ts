import type { FastifyInstance } from 'fastify';

/**
 * Asks a client that waits to be asked (`Expect: 100-continue`, RFC 9110, section 10.1.1) for its body only when the
 * request is let in. By itself node asks at once, and an upload is sent for nothing but its refusal.
 */
export function askForBodyWhenLetIn(app: FastifyInstance): void {
  const waiting = new WeakSet<object>();
  app.server.on('checkContinue', (request, response) => {
    waiting.add(request);
    app.server.emit('request', request, response);
  });
  app.addHook('preParsing', async ({ raw }, reply) => {
    if (waiting.has(raw)) reply.raw.writeContinue();
  });
}
