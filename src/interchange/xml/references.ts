import { AMPERSAND, HASH, isXmlCharacter, SEMICOLON } from './characters.js';
import { XmlFault } from './fault.js';

/** The five entities that every document has; no others can be, as a document type is not allowed. */
const PREDEFINED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

const NUMERIC = /^#(?:x([0-9A-Fa-f]+)|([0-9]+))$/;

/** Longer than any reference that means something. */
const LONGEST_REFERENCE = 64;

/** The character that a reference stands for, undefined if it is none. @param body what is between `&` and `;` */
function referenced(body: string): string | undefined {
  if (body.charCodeAt(0) !== HASH) return Object.hasOwn(PREDEFINED, body) ? PREDEFINED[body] : undefined;
  const [, hexadecimal, decimal] = NUMERIC.exec(body) ?? [];
  const code = hexadecimal === undefined ? Number(decimal) : Number.parseInt(hexadecimal, 16);
  return isXmlCharacter(code) ? String.fromCodePoint(code) : undefined;
}

/** A value as the document means it: references resolved, each blank a space (XML 1.0 §3.3.3). */
export function normalisedValue(raw: string): string {
  return raw.replace(/\r\n|[\t\r\n]/g, ' ').replace(/&([^;]*);/g, (_, body: string) => referenced(body) ?? '');
}

/**
 * Where a reference ends, behind its `;`; -1 if the window ends first.
 * @param at of the `&`
 * @throws XmlFault if it is no reference to a character that is allowed, or to a predefined entity
 */
export function referenceEnd(bytes: Buffer, at: number, end: number): number {
  const most = Math.min(end, at + LONGEST_REFERENCE);
  let next = at + 1;
  while (next < most && bytes[next] !== SEMICOLON && bytes[next] !== AMPERSAND) next++;
  if (next === end && most === end) return -1;
  if (bytes[next] === SEMICOLON && referenced(bytes.toString('latin1', at + 1, next)) !== undefined) return next + 1;
  throw new XmlFault('"&" begins no known entity or character');
}
