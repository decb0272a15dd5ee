import { readFile } from 'node:fs/promises';
import { DOCUMENT_NAMES, type Document, type DocumentName, readGiven } from '../given.js';
import { dayOf, isDay } from '../policy/day.js';
import { builtIn, DEFAULT_POLICY, type EffectivePolicy, isBuiltIn, readPolicy } from '../policy/effective.js';
import { BUILT_IN_NAMES } from '../policy/policy.js';
import { CallError, UsageError } from './usage.js';

/** The options of what an archive is judged by, for `parseArgs`. */
export const JUDGING_OPTIONS = {
  policy: { type: 'string' },
  products: { type: 'string' },
  site: { type: 'string' },
  measured: { type: 'string' },
} as const;

/** The options of all that goes along with an archive. */
export const GIVEN_OPTIONS = {
  ...JUDGING_OPTIONS,
  waivers: { type: 'string' },
  baseline: { type: 'string' },
  'as-of': { type: 'string' },
} as const;

export type GivenValues = { readonly [name in keyof typeof GIVEN_OPTIONS]?: string | undefined };

/** Reads the files that the options name. */
export async function givenBy(values: GivenValues) {
  const asOf = values['as-of'] ?? dayOf(new Date());
  if (!isDay(asOf)) throw new UsageError(`--as-of takes a day such as 2027-03-31, not "${asOf}"`);
  const { policy } = values;
  const base = policy !== undefined && isBuiltIn(policy) ? builtIn(policy) : undefined;
  const documents: { [name in DocumentName]?: Document } = {};
  for (const name of DOCUMENT_NAMES) {
    const file = values[name];
    if (file === undefined || (name === 'policy' && base !== undefined)) continue;
    documents[name] = await documentOf(name, file);
  }
  return { ...(await readGiven(documents, base)), asOf };
}

/** A policy by the name of a built-in one, or of its file. */
export async function policyNamed(name: string | undefined): Promise<EffectivePolicy> {
  if (name === undefined) return DEFAULT_POLICY;
  if (isBuiltIn(name)) return builtIn(name);
  const { text } = await documentOf('policy', name);
  return readPolicy(text, name);
}

export async function documentOf(option: DocumentName, file: string): Promise<Document> {
  const hint = option === 'policy' ? `; built in are ${BUILT_IN_NAMES.join(', ')}` : '';
  return documentAt(file, `--${option} ${file}`, hint);
}

/** A file as text. @param called what the error of one that cannot be read begins with */
export async function documentAt(file: string, called: string, hint = ''): Promise<Document> {
  try {
    return { name: file, text: new TextDecoder('utf-8', { fatal: true }).decode(await readFile(file)) };
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException;
    const why = code === 'ERR_ENCODING_INVALID_ENCODED_DATA' ? 'no valid UTF-8' : code;
    throw new CallError(`${called} cannot be read (${why})${hint}`);
  }
}
