import type { Balance } from '../electrical/balance.js';
import type { Installation } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { Site } from '../site/site.js';
import type { Words } from '../words/words.js';

/** What is said of supplies while they are chosen. */
export type SizingWords = Pick<Words, 'sizing' | 'missing'>;

/** What proposals are made of: the balances of an installation, what they were judged by, and what reasons are told in. */
export interface Sized {
  readonly installation: Installation;
  readonly balances: readonly Balance[];
  readonly site: Site | null;
  readonly policy: Policy;
  readonly words: SizingWords;
}
