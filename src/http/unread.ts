import type { FastifyInstance } from 'fastify';
import { RequestError } from './problems.js';

/** A client that neither sends nor closes for this long has its answer, or does not want it. */
const SILENT_MS = 5000;

/**
 * Closes connections whose request is answered before its body has come, in a way in which the client gets the answer:
 * were the connection closed at once, what is still on its way would make the system reset it, and the reset overtakes
 * the answer. So the service only ends its own side, and drops what comes until the client ends too, falls silent, or
 * the time for a request is over.
 */
export function closeUnread(app: FastifyInstance): void {
  app.addHook('onSend', async ({ raw }, reply) => {
    if (raw.complete || raw.destroyed) return;
    reply.header('connection', 'close');
    const { socket } = raw;
    socket.destroySoon = () => {
      socket.end();
      socket.setTimeout(SILENT_MS);
    };
    raw.unpipe();
    raw.resume();
  });
}

/**
 * Asks a client that waits to be asked (`Expect: 100-continue`, RFC 9110, section 10.1.1) for its body only when the
 * request is let in. By itself node asks at once, and an upload is sent for nothing but its refusal.
 */
export function askForBodies(app: FastifyInstance): void {
  const waiting = new WeakSet<object>();
  app.server.on('checkContinue', (request, response) => {
    waiting.add(request);
    app.server.emit('request', request, response);
  });
  app.addHook('preParsing', async ({ raw }, reply) => {
    if (waiting.has(raw)) reply.raw.writeContinue();
  });
}

/** Refuses every other expectation (RFC 9110, section 10.1.1). By itself node does so without a problem document. */
export function refuseExpectations(app: FastifyInstance): void {
  const unmet = new WeakSet<object>();
  app.server.on('checkExpectation', (request, response) => {
    unmet.add(request);
    app.server.emit('request', request, response);
  });
  app.addHook('onRequest', async ({ raw }) => {
    if (unmet.has(raw)) throw new RequestError('expectation-failed', 'send Expect as 100-continue, or leave it out');
  });
}
