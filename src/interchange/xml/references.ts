import { HASH, isXmlCharacter, SEMICOLON } from './characters.js';
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

const ENTITIES = Object.keys(PREDEFINED).map((name) => Buffer.from(`${name};`));

/**
 * Where a reference ends, behind its `;`; -1 if the window ends first.
 * @param at of the `&`
 * @param end of the window, where a 0 stands
 * @throws XmlFault if it is no reference to a character that is allowed, or to a predefined entity
 */
export function referenceEnd(bytes: Buffer, at: number, end: number): number {
  const found = bytes[at + 1] === HASH ? numberEnd(bytes, at + 2) : entityEnd(bytes, at + 1);
  if (found > 0) return found;
  if (-found >= end && end - at < LONGEST_REFERENCE) return -1;
  throw new XmlFault('"&" begins no known entity or character');
}

/** Behind the `;` of a predefined entity; else, negated, where something else stands than in any of them. */
function entityEnd(bytes: Buffer, from: number): number {
  let furthest = from;
  for (const entity of ENTITIES) {
    let length = 0;
    while (length < entity.length && bytes[from + length] === entity[length]) length++;
    if (length === entity.length) return from + length;
    furthest = Math.max(furthest, from + length);
  }
  return -furthest;
}

const HEXADECIMAL_MARK = 0x78;
/** Beyond all characters: a number that has come here stays here. */
const NO_CHARACTER = 0x110000;

/** Behind the `;` of a number that stands for a character; else, negated, where it goes wrong. */
function numberEnd(bytes: Buffer, from: number): number {
  const base = bytes[from] === HEXADECIMAL_MARK ? 16 : 10;
  const start = base === 16 ? from + 1 : from;
  let at = start;
  let code = 0;
  for (;;) {
    const digit = digitOf(bytes[at] as number);
    if (digit < 0 || digit >= base || at - from > LONGEST_REFERENCE) break;
    code = Math.min(code * base + digit, NO_CHARACTER);
    at++;
  }
  const isNumber = at > start && bytes[at] === SEMICOLON;
  return isNumber && isXmlCharacter(code) ? at + 1 : -at;
}

/** 0 to 15, or -1. */
function digitOf(byte: number): number {
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30;
  const letter = byte | 0x20;
  return letter >= 0x61 && letter <= 0x66 ? letter - 0x57 : -1;
}
