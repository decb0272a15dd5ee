import { EN } from './en/words.js';
import type { Words } from './words.js';

/** The languages that there are texts in; the first is that of every machine format. */
export const LANGUAGES = ['en', 'de'] as const;

export type Language = (typeof LANGUAGES)[number];

/** The texts in a language. Others than English are loaded when they are asked for, as most runs need none. */
export async function wordsOf(language: Language): Promise<Words> {
  return language === 'en' ? EN : (await import('./de/words.js')).DE;
}
