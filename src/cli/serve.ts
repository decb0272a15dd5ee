import { parseArgs } from 'node:util';
import type { Flags } from '../http/settings.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { limitValues } from './limit-option.js';
import { CallError, UsageError } from './usage.js';

/** `linebudget serve`: runs until it is told to stop. */
export async function serveCommand(args: readonly string[]): Promise<ExitCode> {
  const { file, flags } = parse(args);
  // Only this command needs the server; without it the others start at once.
  const [{ serve }, { ConfigError }, { settingsOf }] = await Promise.all([
    import('../http/server.js'),
    import('../http/config.js'),
    import('../http/settings.js'),
  ]);
  try {
    await serve(await settingsOf(file, flags));
  } catch (cause) {
    if (cause instanceof ConfigError) throw new CallError(cause.message);
    throw isAddressError(cause) ? new CallError(`cannot listen on ${addressOf(cause)} (${cause.code})`) : cause;
  }
  return EXIT.fine;
}

interface Call {
  readonly file: string | undefined;
  readonly flags: Flags;
}

function parse(args: readonly string[]): Call {
  const { values } = parseArgs({
    args: [...args],
    options: {
      config: { type: 'string' },
      host: { type: 'string' },
      port: { type: 'string' },
      open: { type: 'boolean' },
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  const { config, port, limit, ...others } = values;
  if (others.host === '') throw new UsageError('--host takes an address or a name of this machine');
  return {
    file: config,
    flags: { ...others, limits: limitValues(limit), ...(port === undefined ? {} : { port: portOf(port) }) },
  };
}

function portOf(given: string): number {
  const port = Number(given);
  if (!/^\d{1,5}$/.test(given) || port > 65_535) {
    throw new UsageError(`--port takes a number from 0 to 65535, not "${given}"`);
  }
  return port;
}

interface AddressError extends NodeJS.ErrnoException {
  readonly hostname?: string;
  readonly address?: string;
  readonly port?: number;
}

/** The address is taken, not ours to take, or of no machine. */
function isAddressError(cause: unknown): cause is AddressError {
  return (
    cause instanceof Error && 'syscall' in cause && ['listen', 'bind', 'getaddrinfo'].includes(String(cause.syscall))
  );
}

function addressOf({ hostname, address, port }: AddressError): string {
  return hostname ?? `${address}:${port}`;
}
