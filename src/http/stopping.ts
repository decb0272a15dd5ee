import type { Socket } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { RequestError } from './problems.js';

/**
 * Stops in good order: what is in flight is finished, new work is refused, and no idle connection holds the stop up.
 * @returns the hook that refuses new work while the service stops
 */
export function stopInOrder(app: FastifyInstance): () => Promise<void> {
  const unused = unusedConnections(app);
  let isStopping = false;
  app.addHook('preClose', async () => {
    isStopping = true;
    for (const socket of unused) socket.destroy();
  });
  // A connection that is kept alive would outlast its last answer.
  app.addHook('onSend', async (_request, reply) => {
    if (isStopping) reply.header('connection', 'close');
  });
  // So would that of a stream, which has begun before.
  app.addHook('onResponse', async ({ raw }) => {
    if (isStopping) raw.socket.destroySoon();
  });
  return async () => {
    if (isStopping) throw new RequestError('stopping', 'the service is stopping and takes no new work');
  };
}

/** Connections that have sent no request yet: node counts them as busy, and would wait for them. */
function unusedConnections({ server }: FastifyInstance): ReadonlySet<Socket> {
  const unused = new Set<Socket>();
  server.on('connection', (socket) => {
    unused.add(socket);
    socket.once('close', () => unused.delete(socket));
  });
  server.on('request', ({ socket }) => unused.delete(socket));
  return unused;
}
