import { quoted } from '../errors.js';
import { DEFAULT_LIMITS, LimitError, type Limits, limitsWith } from '../limits.js';
import type { Access } from './access/access.js';
import { isExposed } from './access/exposure.js';
import type { RateLimit } from './access/throttle.js';
import { type Config, ConfigError, readConfig } from './config.js';

/** All that the service is started with. */
export interface Settings {
  readonly host: string;
  readonly port: number;
  readonly limits: Limits;
  readonly access: Access;
}

/** What the command line says; it goes before what the file says. */
export type Flags = Pick<Config, 'host' | 'port' | 'open'> & { readonly limits?: Readonly<Record<string, number>> };

const DEFAULT_HOST = '127.0.0.1';
const DEFAULT_PORT = 8080;
/** Where others reach the service: an audit a second is more than a person or a build asks for. */
const DEFAULT_RATE_LIMIT: RateLimit = { requestsPerMinute: 60 };

/** @throws ConfigError where the service would be open to others and nobody said that it should be */
export async function settingsOf(file: string | undefined, flags: Flags): Promise<Settings> {
  const written = file === undefined ? {} : await readConfig(file);
  const config: Config = { ...written, ...flags };
  const limits = limitsOf({ ...written.limits, ...flags.limits });
  const { host = DEFAULT_HOST, port = DEFAULT_PORT, tokens = [], trustProxy = [], allowedOrigins = [] } = config;
  const exposed = await isExposed({ host, trustProxy });
  refuseContradiction(config, tokens.length);
  if (exposed && tokens.length === 0 && config.open !== true) throw unguarded(host, trustProxy);
  const { rateLimit = exposed ? DEFAULT_RATE_LIMIT : null } = config;
  return { host, port, limits, access: { tokens, trustProxy, allowedOrigins, rateLimit } };
}

function limitsOf(values: Readonly<Record<string, number>>): Limits {
  try {
    const uploadBytesHeld = Math.max(DEFAULT_LIMITS.uploadBytesHeld, values.uploadBytes ?? 0);
    return withRoomForOne(limitsWith({ uploadBytesHeld, ...values }));
  } catch (cause) {
    throw cause instanceof LimitError ? new ConfigError(cause.message) : cause;
  }
}

function withRoomForOne(limits: Limits): Limits {
  const { uploadBytesHeld, uploadBytes } = limits;
  if (uploadBytesHeld >= uploadBytes) return limits;
  throw new ConfigError(
    `the limit uploadBytesHeld (${uploadBytesHeld}) has to be at least uploadBytes (${uploadBytes})`,
  );
}

function refuseContradiction({ open }: Config, tokens: number): void {
  if (open !== true || tokens === 0) return;
  throw new ConfigError('with tokens the service is not open: leave out either "open" (--open) or "tokens"');
}

function unguarded(host: string, trustProxy: readonly string[]): ConfigError {
  const why = trustProxy.length > 0 ? 'behind a proxy (trustProxy)' : `on ${quoted(host)}`;
  return new ConfigError(
    `${why} others reach the service, and no token is configured: make one with "linebudget token --name NAME" ` +
      'and start with --config FILE that holds its entry, or let everybody in with --open',
  );
}
