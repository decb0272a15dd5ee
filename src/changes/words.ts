import { checkDocument, DocumentError } from '../documents/document.js';
import { InputError, quoted } from '../errors.js';
import type { Change } from './changes.js';
import { CHANGE } from './shapes.js';

/** How a change is said in words, by the option that takes it. The line is the last of it: a product may hold an “on”. */
const WORDS = {
  add: {
    pattern: /^(\d{1,9}) of (.+) on (\S.*)$/,
    example: '4 of 12 mA on 1.1" or "4 of ORDER-NUMBER on 1.1 segment 2',
  },
  remove: { pattern: /^(\d{1,9}) of (.+) on (\S.*)$/, example: '4 of ORDER-NUMBER on 1.1' },
  supply: { pattern: /^(\S.*) on (\S.*)$/, example: '640 mA on 1.1' },
} as const;

export type ChangeKind = keyof typeof WORDS;

export const CHANGE_KINDS = Object.keys(WORDS) as ChangeKind[];

const CURRENT = /^[\d.]+ ?m?A$/;

/**
 * Reads a change as the command line says it: `4 of ORDER-NUMBER on 1.1`, `640 mA on 1.1 segment 2`.
 * @throws InputError `invalid-changes` where it is said otherwise, or says what is not allowed
 */
export function changeInWords(kind: ChangeKind, text: string): Change {
  const { pattern, example } = WORDS[kind];
  const place = `--${kind} ${quoted(text)}`;
  const found = pattern.exec(text);
  if (found === null)
    throw new InputError('invalid-changes', `${place} is not understood; say it such as "${example}"`);
  const on = lineIn(found.at(-1) ?? '');
  const [, first = '', second = ''] = found;
  try {
    return { ...checkDocument(CHANGE, { ...on, ...said(kind, first, second) }), placeOf: () => place };
  } catch (cause) {
    throw cause instanceof DocumentError ? new InputError('invalid-changes', `${place}: ${cause.message}`) : cause;
  }
}

function said(kind: ChangeKind, first: string, second: string): object {
  if (kind === 'supply') return { supply: first };
  const isCurrent = kind === 'add' && CURRENT.test(second);
  return { [kind]: Number(first), [isCurrent ? 'current' : 'product']: second };
}

function lineIn(text: string): object {
  const [, line, segment] = /^(.+) segment (\d{1,9})$/.exec(text) ?? [];
  return line === undefined ? { line: text } : { line, segment: Number(segment) };
}
