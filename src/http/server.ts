import { lookup } from 'node:dns/promises';
import { pino } from 'pino';
import { TOOL } from '../version.js';
import { buildApp } from './app.js';
import { AuditPool } from './pool.js';
import type { Settings } from './settings.js';

/** As the command line's own fault. */
const EXIT_NOT_IN_TIME = 3;

/** Starts the service and runs until SIGTERM or SIGINT; audits in flight are finished before it ends. */
export async function serve({ host, port, limits, access }: Settings): Promise<void> {
  const logger = pino({ name: TOOL.name, base: { version: TOOL.version } }, pino.destination(2));
  const audits = new AuditPool({
    workerFile: new URL('./worker.js', import.meta.url),
    limits,
    onFault: (cause) => logger.error(cause, 'a thread failed'),
  });
  const app = await buildApp({ audits, limits, access, logger });
  const stopped = new Promise<NodeJS.Signals>((resolve) => {
    for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, resolve);
  });
  // A name may have several addresses, and of further ones the framework would not know what is set here.
  const { address } = await lookup(host);
  await app.listen({ host: address, port });
  audits.start(); // not before, as they would take the processors from the service's own start
  const signal = await stopped;
  logger.info({ signal }, 'stopping; requests in flight are finished');
  setTimeout(() => {
    logger.error('requests in flight did not finish in time');
    process.exit(EXIT_NOT_IN_TIME);
  }, limits.stopSeconds * 1000).unref();
  await app.close();
  logger.info('stopped');
}
