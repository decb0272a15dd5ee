import { pino } from 'pino';
import { TOOL } from '../version.js';
import { buildApp } from './app.js';
import { createPool } from './pool.js';
import type { Settings } from './settings.js';

/** Requests in flight may finish within this time after the service is told to stop. */
const STOP_WITHIN_MS = 30_000;
/** As the command line's own fault. */
const EXIT_NOT_IN_TIME = 3;

/** Starts the service and runs until SIGTERM or SIGINT; audits in flight are finished before it ends. */
export async function serve({ host, port, limits, access }: Settings): Promise<void> {
  const logger = pino({ name: TOOL.name, base: { version: TOOL.version } }, pino.destination(2));
  const audits = createPool({ workerFile: new URL('./worker.js', import.meta.url) });
  const app = await buildApp({ audits, limits, access, logger });
  const stopped = new Promise<NodeJS.Signals>((resolve) => {
    for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, resolve);
  });
  await app.listen({ host, port });
  const signal = await stopped;
  logger.info({ signal }, 'stopping; requests in flight are finished');
  setTimeout(() => {
    logger.error('requests in flight did not finish in time');
    process.exit(EXIT_NOT_IN_TIME);
  }, STOP_WITHIN_MS).unref();
  await app.close();
  logger.info('stopped');
}
