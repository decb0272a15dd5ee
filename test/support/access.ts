import { type Access, EVERYBODY } from '../../src/http/access/access.js';
import { createToken, type Role } from '../../src/http/access/tokens.js';

const MADE = {
  auditor: createToken('auditor', ['audit']),
  watcher: createToken('watcher', ['metrics']),
  both: createToken('both', ['audit', 'metrics'] satisfies Role[]),
};

/** The tokens of tests, by the name of their entry; `stranger` is well formed and known to nobody. */
export const TOKEN = {
  auditor: MADE.auditor.token,
  watcher: MADE.watcher.token,
  both: MADE.both.token,
  stranger: createToken('stranger', ['audit']).token,
};

export const TOKENS = Object.values(MADE).map(({ entry }) => entry);

/** Access by those tokens, and what else a test wants. */
export function byToken(more: Partial<Access> = {}): Access {
  return { ...EVERYBODY, tokens: TOKENS, ...more };
}

export function bearer(token: string): Record<string, string> {
  return { authorization: `Bearer ${token}` };
}
