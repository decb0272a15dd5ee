import type { Limits } from '../../limits.js';
import {
  AMPERSAND,
  APOSTROPHE,
  CR,
  EQUALS,
  GREATER,
  IN_VALUE,
  isBlank,
  LESS,
  LF,
  NAME_BYTE,
  QUOTE,
  SLASH,
  SPACE,
  specialEnd,
  TAB,
} from './characters.js';
import { XmlFault } from './fault.js';
import { type Name, NameTable, type Wanted } from './names.js';
import { normalisedValue, referenceEnd } from './references.js';

/** What a scan returns where the window ends before it is certain what stands there. */
export const INCOMPLETE = -1;

/** The attributes of the start tag that was scanned last. */
export interface TagValues {
  readonly count: number;
  /** No attribute has a prefix or declares one. */
  readonly isPlain: boolean;
  name(index: number): Name;
  /** The value as the document means it: references resolved, blanks normalised. */
  value(index: number): string;
}

/** Scans start tags: names and attributes in place, without making text of them. */
export class TagScanner implements TagValues {
  count = 0;
  isPlain = true;
  isEmpty = false;
  /** Line ends inside the tag that is scanned. */
  lines = 0;
  nameEnd = 0;
  /** Of the tag that is scanned, from 1. */
  #serial = 0;
  #bytes: Buffer = Buffer.alloc(0);
  #end = 0;
  readonly #names: NameTable;
  readonly #attributes: Name[] = [];
  readonly #valueStart: number[] = [];
  readonly #valueEnd: number[] = [];
  /** Nothing in the value was looked at twice: it means what is written. */
  readonly #isAsWritten: boolean[] = [];

  constructor(
    readonly limits: Limits,
    wanted: Wanted,
  ) {
    this.#names = new NameTable(wanted);
  }

  /** Turns to a window: `bytes` up to `end`, and a 0 there. */
  look(bytes: Buffer, end: number): void {
    this.#bytes = bytes;
    this.#end = end;
  }

  name(index: number): Name {
    return this.#attributes[index] as Name;
  }

  value(index: number): string {
    const raw = this.#bytes.toString('utf8', this.#valueStart[index], this.#valueEnd[index]);
    return this.#isAsWritten[index] ? raw : normalisedValue(raw);
  }

  /** The element's name; undefined if the window ends in it. @param at behind the `<` */
  elementName(at: number, expected: Name | undefined): Name | undefined {
    this.lines = 0;
    return this.nameAt(at, expected);
  }

  /** Between tags. @returns whether all names are made anew from here on: none from before may be expected any more */
  trimNames(): boolean {
    return this.#names.trim();
  }

  /** The name that stands at a place; undefined if the window ends in it. {@link nameEnd} tells where it ends. */
  nameAt(at: number, expected: Name | undefined): Name | undefined {
    const bytes = this.#bytes;
    if (expected !== undefined && standsAt(bytes, at, expected.bytes)) {
      const end = at + expected.bytes.length;
      if (NAME_BYTE[bytes[end] as number] === 0) {
        this.nameEnd = end;
        return end < this.#end ? expected : undefined;
      }
    }
    let end = at;
    while (NAME_BYTE[bytes[end] as number] === 1) end++;
    if (end >= this.#end) return undefined;
    const { xmlNameLength } = this.limits;
    if (end - at > xmlNameLength) throw new XmlFault(`a name has ${end - at} bytes`, 'xmlNameLength');
    const name = this.#names.get(bytes.subarray(at, end));
    if (name === undefined) throw new XmlFault('something that is no name stands where one has to');
    this.nameEnd = end;
    return name;
  }

  /** Scans the attributes behind an element's name. @returns where the tag ends */
  attributes(element: Name): number {
    const bytes = this.#bytes;
    let at = this.nameEnd;
    this.count = 0;
    this.#serial++;
    this.isPlain = true;
    for (;;) {
      const gap = at;
      let byte = bytes[at] as number;
      while (byte === SPACE || byte === LF || byte === CR || byte === TAB) {
        if (byte === LF) this.lines++;
        byte = bytes[++at] as number;
      }
      this.isEmpty = byte === SLASH;
      if (byte === GREATER) return at + 1;
      if (byte === SLASH && bytes[at + 1] === GREATER) return at + 2;
      if (at >= this.#end || (byte === SLASH && at + 1 >= this.#end)) return INCOMPLETE;
      if (at === gap && byte !== SLASH) {
        throw new XmlFault(`no blank stands before an attribute of ${quotedName(element)}`);
      }
      at = this.#attribute(at, element);
      if (at === INCOMPLETE) return INCOMPLETE;
    }
  }

  #attribute(from: number, { lastAttributes }: Name): number {
    const index = this.count;
    const name = this.nameAt(from, lastAttributes[index]);
    if (name === undefined) return INCOMPLETE;
    const start = this.#valueStartAt(this.nameEnd, name);
    if (start === INCOMPLETE) return INCOMPLETE;
    const end = this.#valueEndAt(start, index);
    if (end === INCOMPLETE) return INCOMPLETE;
    this.#refuseRepeated(name, index);
    this.#attributes[index] = lastAttributes[index] = name;
    this.#valueStart[index] = start;
    this.#valueEnd[index] = end;
    this.count = index + 1;
    if (!name.isPlain) this.isPlain = false;
    return end + 1;
  }

  #refuseRepeated(name: Name, index: number): void {
    if (name.lastTag === this.#serial) throw new XmlFault(`the attribute ${quotedName(name)} is given twice`);
    name.lastTag = this.#serial;
    if (index >= this.limits.xmlAttributes) {
      throw new XmlFault(`an element has more than ${this.limits.xmlAttributes} attributes`, 'xmlAttributes');
    }
  }

  /** Past `=` and the opening quote. */
  #valueStartAt(from: number, name: Name): number {
    const bytes = this.#bytes;
    let at = this.#pastBlanks(from);
    if (bytes[at] === EQUALS) {
      at = this.#pastBlanks(at + 1);
      if (bytes[at] === QUOTE || bytes[at] === APOSTROPHE) return at + 1;
    }
    if (at >= this.#end) return INCOMPLETE;
    throw new XmlFault(`the attribute ${quotedName(name)} has no quoted value`);
  }

  #pastBlanks(from: number): number {
    let at = from;
    while (isBlank(this.#bytes[at])) if (this.#bytes[at++] === LF) this.lines++;
    return at;
  }

  #valueEndAt(start: number, index: number): number {
    const bytes = this.#bytes;
    const quote = bytes[start - 1];
    this.#isAsWritten[index] = true;
    let at = start;
    for (;;) {
      while (IN_VALUE[bytes[at] as number] === 0) at++;
      const byte = bytes[at];
      if (byte === quote) break;
      if (byte === LESS) throw new XmlFault('"<" stands in an attribute value');
      if (at >= this.#end) return INCOMPLETE;
      this.#isAsWritten[index] = false;
      if (byte === AMPERSAND) {
        at = referenceEnd(bytes, at, this.#end);
        if (at === INCOMPLETE) return INCOMPLETE;
      } else {
        if (byte === LF) this.lines++;
        at = specialEnd(bytes, at);
      }
    }
    this.#refuseLong(start, at);
    return at;
  }

  #refuseLong(start: number, end: number): void {
    const { xmlValueLength } = this.limits;
    if (end - start <= xmlValueLength) return; // a character has at least one byte
    const { length } = this.#bytes.toString('utf8', start, end);
    if (length > xmlValueLength) throw new XmlFault(`an attribute value has ${length} characters`, 'xmlValueLength');
  }
}

/** Whether a name stands at a place. */
export function standsAt(bytes: Buffer, at: number, name: Uint8Array): boolean {
  const { length } = name;
  for (let index = 0; index < length; index++) if (bytes[at + index] !== name[index]) return false;
  return true;
}

/** A name as errors show it. */
export function quotedName({ text }: Name): string {
  return `"${text.slice(0, 60)}"`;
}
