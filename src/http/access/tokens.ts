import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** What a token may open: audits with all that describes them, or the figures of the service's work. */
export const ROLES = ['audit', 'metrics'] as const;

export type Role = (typeof ROLES)[number];

/** A token as the configuration knows it. */
export interface TokenEntry {
  /** Names the client in the log and to the rate limit. */
  readonly name: string;
  /**
   * SHA-256 of the token, in hexadecimal. Neither salt nor a slow hash is needed, as they are for passwords: the token
   * is 256 random bits, which nobody finds by trying and no table holds.
   */
  readonly sha256: string;
  readonly roles: readonly Role[];
}

export const TOKEN_NAME = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;
export const TOKEN_NAME_IS = '1 to 64 letters, digits, dots, dashes and underscores, the first a letter or digit';

const TOKEN_BYTES = 32;

/** A new token, which nothing keeps, and the entry that lets it in. */
export function createToken(name: string, roles: readonly Role[]): { token: string; entry: TokenEntry } {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  return { token, entry: { name, sha256: sha256(token).toString('hex'), roles } };
}

/** The entry of a token. Every entry is compared in full, so that the time taken tells nothing of any. */
export function entryOf(token: string, entries: readonly TokenEntry[]): TokenEntry | undefined {
  const hash = sha256(token);
  const matching = entries.filter((entry) => timingSafeEqual(hash, Buffer.from(entry.sha256, 'hex')));
  return matching[0];
}

function sha256(token: string): Buffer {
  return createHash('sha256').update(token).digest();
}
