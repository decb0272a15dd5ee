import { BRACKET, type ByteClass, DASH, IN_CDATA, IN_COMMENT, IN_INSTRUCTION, QUESTION } from './characters.js';

/** Markup that holds text up to its end: it may be of any length, so a window may end in it. */
export interface Section {
  readonly what: string;
  readonly lookAt: ByteClass;
  readonly mark: number;
  readonly end: Buffer;
}

export const COMMENT: Section = { what: 'comment', lookAt: IN_COMMENT, mark: DASH, end: Buffer.from('-->') };
export const CDATA: Section = { what: 'CDATA section', lookAt: IN_CDATA, mark: BRACKET, end: Buffer.from(']]>') };
export const INSTRUCTION: Section = {
  what: 'processing instruction',
  lookAt: IN_INSTRUCTION,
  mark: QUESTION,
  end: Buffer.from('?>'),
};

export const COMMENT_START = Buffer.from('<!--');
export const CDATA_START = Buffer.from('<![CDATA[');

/** Whether what is seen is, as far as it goes, the start of something. */
export function startsAlike(seen: Buffer, start: Buffer): boolean {
  const length = Math.min(seen.length, start.length);
  return seen.compare(start, 0, length, 0, length) === 0;
}
