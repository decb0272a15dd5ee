import { XmlFault } from './fault.js';

/** Classes of bytes of a UTF-8 document, for loops that look at every byte. Validity of UTF-8 is checked before. */

export const TAB = 0x09;
export const LF = 0x0a;
export const CR = 0x0d;
export const SPACE = 0x20;
export const BANG = 0x21;
export const QUOTE = 0x22;
export const HASH = 0x23;
export const AMPERSAND = 0x26;
export const APOSTROPHE = 0x27;
export const DASH = 0x2d;
export const SLASH = 0x2f;
export const SEMICOLON = 0x3b;
export const LESS = 0x3c;
export const EQUALS = 0x3d;
export const GREATER = 0x3e;
export const QUESTION = 0x3f;
export const BRACKET = 0x5d;

/** First byte of U+F000–U+FFFF, among them the two that are no XML characters: U+FFFE and U+FFFF. */
const FIRST_OF_LAST = 0xef;

/** 0 for bytes that a loop may pass, 1 for those that it has to look at; NUL is one of them and ends every window. */
export type ByteClass = Uint8Array;

function lookAt(...bytes: readonly number[]): ByteClass {
  const table = new Uint8Array(256);
  for (let byte = 0; byte < SPACE; byte++) table[byte] = 1;
  for (const byte of [FIRST_OF_LAST, ...bytes]) table[byte] = 1;
  return table;
}

export const IN_TEXT = lookAt(LESS, AMPERSAND, BRACKET);
export const IN_VALUE = lookAt(LESS, AMPERSAND, QUOTE, APOSTROPHE);
export const IN_COMMENT = lookAt(DASH);
export const IN_CDATA = lookAt(BRACKET);
export const IN_INSTRUCTION = lookAt(QUESTION);

/** 1 for bytes that a name may hold; of those beyond ASCII the name's own check decides. */
export const NAME_BYTE: ByteClass = Uint8Array.from({ length: 256 }, (_, byte) =>
  byte >= 0x80 || /[A-Za-z0-9_.:-]/.test(String.fromCharCode(byte)) ? 1 : 0,
);

export function isBlank(byte: number | undefined): boolean {
  return byte === SPACE || byte === LF || byte === CR || byte === TAB;
}

/** Whether a number is that of an XML 1.0 character (production 2). */
export function isXmlCharacter(code: number): boolean {
  if (code < SPACE) return code === TAB || code === LF || code === CR;
  return code <= 0xd7ff || (code >= 0xe000 && code <= 0xfffd) || (code >= 0x10000 && code <= 0x10ffff);
}

/**
 * Where the scan goes on behind a byte that is allowed in some places only: line ends and tabs are, other control
 * characters and U+FFFE, U+FFFF are not.
 */
export function specialEnd(bytes: Buffer, at: number): number {
  const byte = bytes[at] as number;
  if (byte < SPACE && !isBlank(byte)) throw new XmlFault(`the control character ${byte} is not allowed`);
  if (byte === FIRST_OF_LAST && bytes[at + 1] === 0xbf && (bytes[at + 2] as number) >= 0xbe) {
    throw new XmlFault('U+FFFE and U+FFFF are no characters');
  }
  return at + 1;
}
