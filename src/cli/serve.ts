import { parseArgs } from 'node:util';
import { serve } from '../http/server.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { UsageError } from './usage.js';

/** `linebudget serve`: runs until it is told to stop. */
export async function serveCommand(args: readonly string[]): Promise<ExitCode> {
  const { values } = parseArgs({
    args: [...args],
    options: { host: { type: 'string', default: '127.0.0.1' }, port: { type: 'string', default: '8080' } },
  });
  const port = Number(values.port);
  if (!/^\d{1,5}$/.test(values.port) || port > 65_535) {
    throw new UsageError(`--port takes a number from 0 to 65535, not "${values.port}"`);
  }
  await serve({ host: values.host, port });
  return EXIT.fine;
}
