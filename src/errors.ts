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
  'archive-cut-off': { status: 422, title: 'The ZIP archive is cut off' },
  'archive-split': { status: 422, title: 'The ZIP archive is one of several volumes' },
  'archive-gap': { status: 422, title: 'The ZIP archive holds bytes that belong to nothing' },
  'ambiguous-directory': { status: 422, title: 'The ZIP archive can be taken to have two directories' },
  'directory-misplaced': { status: 422, title: 'The directory of the ZIP archive is not where it should be' },
  'directory-contradictory': { status: 422, title: 'The directory of the ZIP archive contradicts itself' },
  'entry-misplaced': { status: 422, title: 'An entry of the ZIP archive is not where it should be' },
  'entry-contradictory': { status: 422, title: 'An entry of the ZIP archive contradicts itself' },
  'entries-overlap': { status: 422, title: 'Two entries of the ZIP archive share bytes' },
  'unsafe-name': { status: 422, title: 'An entry of the ZIP archive has a name that is not allowed' },
  'ambiguous-part': { status: 422, title: 'Two parts of the archive claim the same name' },
  'unsupported-packing': { status: 422, title: 'A part of the archive is packed by a method that is not read' },
  'inflate-failed': { status: 422, title: 'A part of the archive cannot be inflated' },
  'size-mismatch': { status: 422, title: 'A part of the archive has another size than it declares' },
  'checksum-mismatch': { status: 422, title: 'A part of the archive does not match its checksum' },
  'protected-project': { status: 422, title: 'The project is protected by a password' },
  'no-project': { status: 422, title: 'The archive holds no project' },
  'malformed-xml': { status: 422, title: 'An XML document of the archive is malformed' },
  'unreadable-encoding': { status: 422, title: 'The text encoding of a document cannot be read' },
  'wrong-namespace': { status: 422, title: 'A document is not in the interchange namespace' },
  'invalid-value': { status: 422, title: 'A document holds a value that the interchange form does not allow' },
  'invalid-policy': { status: 422, title: 'The policy cannot be used' },
  'invalid-product-list': { status: 422, title: 'The list of products cannot be used' },
  'invalid-waivers': { status: 422, title: 'The list of waivers cannot be used' },
  'invalid-baseline': { status: 422, title: 'The report to compare with cannot be used' },
  'invalid-site-sheet': { status: 422, title: 'The site sheet cannot be used' },
  'invalid-measured-values': { status: 422, title: 'The list of measured values cannot be used' },
  'invalid-plan': { status: 422, title: 'The plan cannot be used' },
  'invalid-changes': { status: 422, title: 'The changes cannot be made' },
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
