import { readFile } from 'node:fs/promises';
import { isIP } from 'node:net';
import { z } from 'zod';
import { checkDocument, DocumentError, parseDocument } from '../documents/document.js';
import { list, section, wholeNumber } from '../documents/shape.js';
import { quoted } from '../errors.js';
import { LIMITS, type Limits } from '../limits.js';
import { ROLES, TOKEN_NAME, TOKEN_NAME_IS } from './access/tokens.js';

/** The configuration, or what it asks for, cannot be used; the text says why and what to do. */
export class ConfigError extends Error {
  override readonly name = 'ConfigError';
}

/** A value with the one text that says what is allowed. */
function value<T>(isAllowed: (given: unknown) => boolean, allowed: string): z.ZodType<T> {
  return z.custom<T>(isAllowed, { error: allowed });
}

function text(isAllowed: (given: string) => boolean, allowed: string): z.ZodType<string> {
  return value((given) => typeof given === 'string' && isAllowed(given), allowed);
}

const HOST = text((given) => given !== '', 'an address or a name of this machine');
const PORT = wholeNumber({ least: 0, most: 65_535 });
const SHA256 = text((given) => /^[0-9a-f]{64}$/i.test(given), 'the entry that "linebudget token" prints');
const ROLE = value<(typeof ROLES)[number]>((given) => ROLES.includes(given as never), `one of ${ROLES.join(', ')}`);

const TOKEN = section({
  name: text((given) => TOKEN_NAME.test(given), TOKEN_NAME_IS),
  sha256: SHA256,
  roles: list(ROLE, 'roles').refine((roles) => roles.length > 0, `at least one of ${ROLES.join(', ')}`),
});

const TOKENS = list(TOKEN, 'tokens')
  .refine((tokens) => isUnique(tokens.map(({ name }) => name)), 'tokens of different names')
  .refine((tokens) => isUnique(tokens.map(({ sha256 }) => sha256.toLowerCase())), 'tokens of different hashes');

const CONFIG = section({
  host: HOST,
  port: PORT,
  open: value<boolean>((given) => typeof given === 'boolean', 'true or false'),
  trustProxy: list(text(isNetwork, 'an address or a network such as 10.0.0.0/8'), 'addresses and networks'),
  tokens: TOKENS,
  allowedOrigins: list(
    text(isOrigin, 'an origin such as https://portal.example, each by itself and without "*" or a path'),
    'origins',
  ),
  rateLimit: section({ requestsPerMinute: wholeNumber({ least: 1, most: 1_000_000 }) }).nullable(),
  limits: section(mapped(LIMITS, ({ least, most }) => wholeNumber({ least, most }).optional())) as z.ZodType<
    Partial<Limits>
  >,
}).partial();

export type Config = z.infer<typeof CONFIG>;

function mapped<Name extends string, From, To>(from: Readonly<Record<Name, From>>, make: (one: From) => To) {
  return Object.fromEntries(Object.entries<From>(from).map(([name, one]) => [name, make(one)])) as Record<Name, To>;
}

function isUnique(names: readonly string[]): boolean {
  return new Set(names).size === names.length;
}

function isNetwork(given: string): boolean {
  const [address = '', prefix, ...more] = given.split('/');
  const bits = address.includes('%') ? -1 : ({ 4: 32, 6: 128 }[isIP(address)] ?? -1); // a zone is of one machine only
  return (
    more.length === 0 && bits > 0 && (prefix === undefined || (/^[1-9]\d{0,2}$/.test(prefix) && Number(prefix) <= bits))
  );
}

function isOrigin(given: string): boolean {
  return URL.canParse(given) && new URL(given).origin === given && /^https?:/.test(given);
}

/** Reads a configuration file, in YAML or JSON, and holds it against what is allowed. */
export async function readConfig(file: string): Promise<Config> {
  const source = await readFile(file, 'utf8').catch((cause: NodeJS.ErrnoException) => {
    throw new ConfigError(`--config ${file} cannot be read (${cause.code})`);
  });
  try {
    return checkDocument(CONFIG, await parseDocument(source), told);
  } catch (cause) {
    if (!(cause instanceof DocumentError)) throw cause;
    throw new ConfigError(`${file} cannot be used:\n${cause.faults.map((fault) => `  ${fault}`).join('\n')}`);
  }
}

/** What stands there; of tokens only names and roles, as a token may stand in any wrong place among them. */
function told(given: string, path: readonly PropertyKey[]): string {
  if (path[0] !== 'tokens') return quoted(given);
  const isSecret = path.length > 2 && !path.includes('name') && !path.includes('roles');
  return isSecret || /[\w-]{32}/.test(given) ? '(not shown, as it may be a token)' : quoted(given);
}
