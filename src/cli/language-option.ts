import { LANGUAGES, type Language } from '../words/language.js';
import { oneOf } from './usage.js';

/** The option of the language, for `parseArgs`. It is not from the environment: the same call gives the same bytes. */
export const LANGUAGE_OPTION = { lang: { type: 'string', default: LANGUAGES[0] } } as const;

/** The language that a call asks for. @throws UsageError for one that there is not */
export function languageOf({ lang }: { readonly lang: string }): Language {
  return oneOf('lang', lang, LANGUAGES);
}
