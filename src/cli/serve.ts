import { parseArgs } from 'node:util';
import { EXIT, type ExitCode } from './exit-code.js';
import { limitsOf } from './limit-option.js';
import { CallError, UsageError } from './usage.js';

/** `linebudget serve`: runs until it is told to stop. */
export async function serveCommand(args: readonly string[]): Promise<ExitCode> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      host: { type: 'string', default: '127.0.0.1' },
      port: { type: 'string', default: '8080' },
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  const port = Number(values.port);
  if (!/^\d{1,5}$/.test(values.port) || port > 65_535) {
    throw new UsageError(`--port takes a number from 0 to 65535, not "${values.port}"`);
  }
  const limits = limitsOf(values.limit);
  // Only this command needs the server; without it the others start at once.
  const { serve } = await import('../http/server.js');
  try {
    await serve({ host: values.host, port, limits });
  } catch (cause) {
    throw isAddressError(cause) ? new CallError(`cannot listen on ${values.host}:${port} (${cause.code})`) : cause;
  }
  return EXIT.fine;
}

/** The address is taken, not ours to take, or of no machine. */
function isAddressError(cause: unknown): cause is NodeJS.ErrnoException {
  return (
    cause instanceof Error && 'syscall' in cause && ['listen', 'bind', 'getaddrinfo'].includes(String(cause.syscall))
  );
}
