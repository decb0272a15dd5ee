import type { EN } from './en/words.js';

/** All texts in one language; English says which there are, and from which facts each is made. */
export type Words = typeof EN;
