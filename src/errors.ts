/**
 * What can be wrong with an input, each with a stable code.
 *
 * Three failures are kept apart: the plant is wrong (a finding), the input is wrong (an {@link InputError}: HTTP 4xx,
 * exit 2) and we are wrong (any other error: HTTP 500, exit 3). The code is part of the interface; what it means and what to
 * do about it stands in the catalogue of words; the detail of one occurrence says what and where.
 */
export const INPUT_FAULTS = {
  'not-a-zip': { status: 415 },
  'limit-exceeded': { status: 413 },
  'archive-cut-off': { status: 422 },
  'archive-split': { status: 422 },
  'archive-gap': { status: 422 },
  'ambiguous-directory': { status: 422 },
  'directory-misplaced': { status: 422 },
  'directory-contradictory': { status: 422 },
  'entry-misplaced': { status: 422 },
  'entry-contradictory': { status: 422 },
  'entries-overlap': { status: 422 },
  'unsafe-name': { status: 422 },
  'ambiguous-part': { status: 422 },
  'unsupported-packing': { status: 422 },
  'inflate-failed': { status: 422 },
  'size-mismatch': { status: 422 },
  'checksum-mismatch': { status: 422 },
  'protected-project': { status: 422 },
  'no-project': { status: 422 },
  'malformed-xml': { status: 422 },
  'unreadable-encoding': { status: 422 },
  'wrong-namespace': { status: 422 },
  'invalid-value': { status: 422 },
  'invalid-policy': { status: 422 },
  'invalid-product-list': { status: 422 },
  'invalid-waivers': { status: 422 },
  'invalid-baseline': { status: 422 },
  'invalid-site-sheet': { status: 422 },
  'invalid-measured-values': { status: 422 },
  'invalid-plan': { status: 422 },
  'invalid-changes': { status: 422 },
  'no-segments': { status: 422 },
} as const;

export type InputFault = keyof typeof INPUT_FAULTS;

/** Where in the input something was found: the archive's part and, in a text, the line (from 1). */
export interface InputPlace {
  readonly part?: string | undefined;
  readonly line?: number | undefined;
}

/** The input cannot be audited. Carries a stable code, a text for a person, and the place. */
export class InputError extends Error {
  override readonly name = 'InputError';

  constructor(
    readonly code: InputFault,
    readonly detail: string,
    readonly place: InputPlace = {},
  ) {
    super(describe(detail, place));
  }

  get status(): number {
    return INPUT_FAULTS[this.code].status;
  }
}

function describe(detail: string, { part, line }: InputPlace): string {
  if (part === undefined) return detail;
  return `${quoted(part)}${line === undefined ? '' : `, line ${line}`}: ${detail}`;
}

const LONGEST_QUOTE = 120;

/** A name out of an input, made safe for an error text: control characters escaped, cut to a sane length. */
export function quoted(text: string): string {
  const cut = text.length > LONGEST_QUOTE ? `${text.slice(0, LONGEST_QUOTE)}…` : text;
  return `"${cut.replace(UNPRINTABLE, escaped)}"`;
}

// Control, format (which includes bidirectional overrides), surrogate and private-use characters, and line separators.
export const UNPRINTABLE = /[\p{C}\p{Zl}\p{Zp}]/gu;

function escaped(character: string): string {
  return `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`;
}
