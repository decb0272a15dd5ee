/**
 * What can be wrong with an input, each with a stable code.
 *
 * Three failures are kept apart: the plant is wrong (a finding), the input is wrong (an {@link InputError}: HTTP 4xx,
 * exit 2) and we are wrong (any other error: HTTP 500, exit 3). The code is part of the interface; the title is its
 * meaning in words; the detail of one occurrence says what, where and what to do.
 */
export const INPUT_FAULTS = {
  'not-a-zip': { status: 415, title: 'The upload is not a ZIP archive' },
  'limit-exceeded': { status: 413, title: 'The input is over a limit of this service' },
  'damaged-archive': { status: 422, title: 'The ZIP archive is damaged' },
  'checksum-mismatch': { status: 422, title: 'A part of the archive does not match its checksum' },
  'ambiguous-part': { status: 422, title: 'Two parts of the archive claim the same name' },
  'protected-project': { status: 422, title: 'The project is protected by a password' },
  'no-project': { status: 422, title: 'The archive holds no project' },
  'malformed-xml': { status: 422, title: 'An XML document of the archive is malformed' },
  'unreadable-encoding': { status: 422, title: 'The text encoding of a document cannot be read' },
  'wrong-namespace': { status: 422, title: 'A document is not in the interchange namespace' },
  'invalid-value': { status: 422, title: 'A document holds a value that the interchange form does not allow' },
  'no-segments': { status: 422, title: 'The project holds no line segment' },
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
