import { quoted } from '../errors.js';
import { DEFAULT_LIMITS, type Limits } from '../limits.js';
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
export type Flags = Pick<Config, 'host' | 'port' | 'open'>;

const DEFAULT_HOST = '127.0.0.1';
const DEFAULT_PORT = 8080;
/** Where others reach the service: an audit a second is more than a person or a build asks for. */
const DEFAULT_RATE_LIMIT: RateLimit = { requestsPerMinute: 60 };

/** @throws ConfigError where the service would be open to others and nobody said that it should be */
export async function settingsOf(file: string | undefined, flags: Flags): Promise<Settings> {
  const config: Config = { ...(file === undefined ? {} : await readConfig(file)), ...flags };
  const { host = DEFAULT_HOST, port = DEFAULT_PORT, tokens = [], trustProxy = [], allowedOrigins = [] } = config;
  const exposed = await isExposed({ host, trustProxy });
  refuseContradiction(config, tokens.length);
  if (exposed && tokens.length === 0 && config.open !== true) throw unguarded(host, trustProxy);
  const { rateLimit = exposed ? DEFAULT_RATE_LIMIT : null } = config;
  const limits = { ...DEFAULT_LIMITS, ...config.limits };
  return { host, port, limits, access: { tokens, trustProxy, allowedOrigins, rateLimit } };
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
