import type { Limits } from '../../limits.js';
import {
  AMPERSAND, APOSTROPHE, BANG, BRACKET, type ByteClass, CR, DASH, EQUALS, FIRST_OF_LAST, GREATER, IN_CDATA, IN_COMMENT,
  IN_INSTRUCTION, IN_TEXT, IN_VALUE, isBlank, LESS, LF, NAME_BYTE, QUESTION, QUOTE, SLASH, SPACE, TAB,
} from './characters.js';
import { type Name, NameTable } from './names.js';
import { referenceEnd } from './references.js';

/** What the scanner cannot go on from; its reader adds part and line. */
export class XmlFault extends Error {
  constructor(
    readonly kind: 'malformed' | 'limit',
    message: string,
    readonly limit?: 'xmlDepth' | 'xmlAttributes' | 'xmlValueLength' | 'xmlTagBytes',
  ) {
    super(message);
  }
}

/** Start tags and end tags, as they are met. Attribute values are read through {@link TagValues}, and only if wanted. */
export interface TagHandler {
  open(name: Name, attributes: TagValues): void;
  close(name: Name): void;
  declaration(text: string): void;
}

/** The attributes of the start tag that was just scanned. */
export interface TagValues {
  readonly count: number;
  /** No attribute has a prefix or declares one. */
  readonly isPlain: boolean;
  name(index: number): Name;
  /** The value as written: references are not resolved. */
  raw(index: number): string;
}

const INCOMPLETE = -1;
const CDATA_START = Buffer.from('<![CDATA[');
const COMMENT_START = Buffer.from('<!--');

interface Section {
  readonly what: string;
  readonly lookAt: ByteClass;
  readonly mark: number;
  readonly end: Buffer;
}

const COMMENT: Section = { what: 'comment', lookAt: IN_COMMENT, mark: DASH, end: Buffer.from('-->') };
const CDATA: Section = { what: 'CDATA section', lookAt: IN_CDATA, mark: BRACKET, end: Buffer.from(']]>') };
const INSTRUCTION: Section = {
  what: 'processing instruction',
  lookAt: IN_INSTRUCTION,
  mark: QUESTION,
  end: Buffer.from('?>'),
};

/**
 * A strict scanner of well-formed XML 1.0 in UTF-8, over windows of bytes. It looks at every byte and makes no text of
 * what nobody asks for: the bulk of a topology document costs no more than looking at it.
 */
export class XmlScanner implements TagValues {
  count = 0;
  isPlain = true;
  line = 1;
  #bytes: Buffer = Buffer.alloc(0);
  #end = 0;
  #isLast = false;
  #section: Section | undefined;
  #hasRoot = false;
  #isStart = true;
  readonly #names: NameTable;
  readonly #open: Name[] = [];
  /** What the last element at a depth was called: what the next one most likely is. */
  readonly #expected: (Name | undefined)[] = [];
  readonly #attributes: Name[] = [];
  readonly #valueStart: number[] = [];
  readonly #valueEnd: number[] = [];
  #nameEnd = 0;
  #tagLines = 0;

  constructor(
    readonly handler: TagHandler,
    readonly limits: Limits,
    isWanted: (local: string) => boolean,
  ) {
    this.#names = new NameTable(isWanted);
  }

  /**
   * Scans a window as far as it is certain what it holds.
   * @param bytes valid UTF-8 from 0 to `end`, and a 0 at `end`
   * @returns how many bytes are done with; the others have to stand at the start of the next window
   */
  scan(bytes: Buffer, end: number, isLast: boolean): number {
    this.#bytes = bytes;
    this.#end = end;
    this.#isLast = isLast;
    let at = 0;
    while (at < end) {
      const next = this.#step(at);
      if (next === INCOMPLETE) break;
      at = next;
    }
    if (isLast) this.#finish(at);
    return at;
  }

  name(index: number): Name {
    return this.#attributes[index] as Name;
  }

  raw(index: number): string {
    return this.#bytes.toString('utf8', this.#valueStart[index], this.#valueEnd[index]);
  }

  #finish(at: number): void {
    if (this.#section !== undefined) throw this.#malformed(`the document ends inside a ${this.#section.what}`);
    const open = this.#open.at(-1);
    if (open !== undefined) throw this.#malformed(`the document ends inside the element ${quotedName(open)}`);
    if (at < this.#end) throw this.#malformed('the document ends inside a tag');
    if (!this.#hasRoot) throw this.#malformed('the document has no element');
  }

  #step(at: number): number {
    if (this.#section !== undefined) return this.#inSection(at, this.#section);
    if (this.#bytes[at] !== LESS) return this.#text(at);
    const second = this.#bytes[at + 1] as number;
    if (at + 1 >= this.#end) return INCOMPLETE;
    if (second === SLASH) return this.#endTag(at);
    if (second === BANG) return this.#bangMarkup(at);
    if (second === QUESTION) return this.#instruction(at);
    return this.#startTag(at);
  }

  #text(from: number): number {
    const bytes = this.#bytes;
    if (this.#open.length === 0) return this.#outside(from);
    let at = from;
    for (;;) {
      while (IN_TEXT[bytes[at] as number] === 0) at++;
      const byte = bytes[at];
      if (byte === LESS) return at;
      if (byte === LF) {
        this.line++;
        at++;
      } else if (byte === BRACKET) {
        if (at + 2 >= this.#end && !this.#isLast) return at > from ? at : INCOMPLETE;
        if (bytes[at + 1] === BRACKET && bytes[at + 2] === GREATER) throw this.#malformed('"]]>" stands in a text');
        at++;
      } else if (byte === AMPERSAND) {
        const next = this.#reference(at);
        if (next === INCOMPLETE) return at > from ? at : INCOMPLETE;
        at = next;
      } else {
        if (at >= this.#end) return at;
        at = this.#special(at);
      }
    }
  }

  /** Before and after the root element only blanks may stand. */
  #outside(from: number): number {
    let at = from;
    while (at < this.#end && isBlank(this.#bytes[at])) {
      if (this.#bytes[at] === LF) this.line++;
      at++;
    }
    this.#isStart = false;
    if (at < this.#end && this.#bytes[at] !== LESS) {
      throw this.#malformed(this.#hasRoot ? 'text follows the root element' : 'text stands before the root element');
    }
    return at;
  }

  /** A byte that is allowed in some places only: line ends and tabs are, other controls and U+FFFE, U+FFFF are not. */
  #special(at: number): number {
    const bytes = this.#bytes;
    const byte = bytes[at] as number;
    if (byte === TAB || byte === CR) return at + 1;
    if (byte === FIRST_OF_LAST) {
      const isNone = bytes[at + 1] === 0xbf && (bytes[at + 2] as number) >= 0xbe;
      if (isNone) throw this.#malformed('U+FFFE and U+FFFF are no characters');
      return at + 1;
    }
    if (byte < SPACE) throw this.#malformed(`the control character ${byte} is not allowed`);
    return at + 1;
  }

  #reference(at: number): number {
    const next = referenceEnd(this.#bytes, at, this.#end);
    if (next === 0 || (next === INCOMPLETE && this.#isLast)) {
      throw this.#malformed('"&" begins no known entity or character');
    }
    return next;
  }

  #inSection(from: number, { what, lookAt, mark, end }: Section): number {
    const bytes = this.#bytes;
    let at = from;
    for (;;) {
      while (lookAt[bytes[at] as number] === 0) at++;
      if (at >= this.#end) return at > from ? at : INCOMPLETE;
      if (bytes[at] === LF) {
        this.line++;
        at++;
      } else if (bytes[at] !== mark) at = this.#special(at);
      else if (at + end.length > this.#end) return at > from ? at : INCOMPLETE;
      else if (bytes.compare(end, 0, end.length, at, at + end.length) === 0) {
        this.#section = undefined;
        return at + end.length;
      } else if (mark === DASH && bytes[at + 1] === DASH) throw this.#malformed(`"--" stands in a ${what}`);
      else at++;
    }
  }

  /** A comment or a CDATA section; a document type is refused. */
  #bangMarkup(at: number): number {
    this.#isStart = false;
    const seen = this.#bytes.subarray(at, Math.min(at + CDATA_START.length, this.#end));
    if (startsAlike(seen, COMMENT_START)) {
      if (seen.length < COMMENT_START.length) return INCOMPLETE;
      this.#section = COMMENT;
      return at + COMMENT_START.length;
    }
    if (startsAlike(seen, CDATA_START) && this.#open.length > 0) {
      if (seen.length < CDATA_START.length) return INCOMPLETE;
      this.#section = CDATA;
      return at + CDATA_START.length;
    }
    if (seen.length < CDATA_START.length && !this.#isLast) return INCOMPLETE;
    const isDoctype = seen.toString('latin1').startsWith('<!DOCTYPE');
    throw this.#malformed(isDoctype ? 'a document type declaration is not allowed' : '"<!" begins no markup');
  }

  #instruction(at: number): number {
    const nameEnd = this.#nameAt(at + 2, undefined);
    if (nameEnd === undefined) return INCOMPLETE;
    const isDeclaration = nameEnd.text === 'xml';
    if (!isDeclaration && /^xml$/i.test(nameEnd.text)) throw this.#malformed('a processing instruction is called xml');
    const after = this.#bytes[this.#nameEnd];
    if (!isBlank(after) && after !== QUESTION) throw this.#malformed('a processing instruction has no blank after its name');
    if (isDeclaration) return this.#declaration(at);
    this.#isStart = false;
    this.#section = INSTRUCTION;
    return this.#nameEnd;
  }

  #declaration(at: number): number {
    if (!this.#isStart || at !== 0) throw this.#malformed('the XML declaration does not stand at the start');
    const end = this.#bytes.subarray(0, this.#end).indexOf('?>', at);
    if (end < 0) {
      if (this.#end - at > this.limits.xmlValueLength) throw this.#malformed('the XML declaration does not end');
      return INCOMPLETE;
    }
    this.#isStart = false;
    const text = this.#bytes.toString('latin1', at, end + 2);
    this.line += text.split('\n').length - 1;
    this.handler.declaration(text);
    return end + 2;
  }

  #endTag(at: number): number {
    const bytes = this.#bytes;
    const open = this.#open.at(-1);
    if (open === undefined) throw this.#malformed('an end tag stands outside of any element');
    const nameEnd = at + 2 + open.bytes.length;
    if (!matches(bytes, at + 2, open.bytes)) {
      if (nameEnd >= this.#end && !this.#isLast) return INCOMPLETE;
      throw this.#malformed(`an end tag does not match the element ${quotedName(open)}`);
    }
    let next = nameEnd;
    let lines = 0;
    while (isBlank(bytes[next])) if (bytes[next++] === LF) lines++;
    if (next >= this.#end) return this.#incompleteTag(at);
    if (bytes[next] !== GREATER) throw this.#malformed(`an end tag does not match the element ${quotedName(open)}`);
    this.line += lines;
    this.#open.pop();
    this.handler.close(open);
    return next + 1;
  }

  #startTag(at: number): number {
    this.#isStart = false;
    this.#names.trim();
    const name = this.#nameAt(at + 1, this.#expected[this.#open.length]);
    if (name === undefined) return this.#incompleteTag(at);
    if (this.#open.length === 0 && this.#hasRoot) throw this.#malformed('a second root element follows the first');
    this.#tagLines = 0;
    const next = this.#attributesOf(name);
    if (next === INCOMPLETE) return this.#incompleteTag(at);
    this.#opened(name, this.#bytes[next - 2] === SLASH && next - 2 >= this.#nameEnd);
    return next;
  }

  #incompleteTag(at: number): number {
    const { xmlTagBytes } = this.limits;
    if (this.#end - at > xmlTagBytes) throw this.#over(`a tag has more than ${xmlTagBytes} bytes`, 'xmlTagBytes');
    return INCOMPLETE;
  }

  #opened(name: Name, isEmpty: boolean): void {
    const depth = this.#open.length;
    if (depth >= this.limits.xmlDepth) throw this.#over(`elements are nested ${depth + 1} deep`, 'xmlDepth');
    this.#hasRoot = true;
    this.#expected[depth] = name;
    this.line += this.#tagLines;
    this.#tagLines = 0;
    if (!isEmpty) this.#open.push(name);
    this.handler.open(name, this);
    if (isEmpty) this.handler.close(name);
  }

  /** Scans the attributes of a start tag. @returns where the tag ends */
  #attributesOf(name: Name): number {
    const bytes = this.#bytes;
    let at = this.#nameEnd;
    this.count = 0;
    this.isPlain = true;
    for (;;) {
      const gap = at;
      let byte = bytes[at] as number;
      while (byte === SPACE || byte === LF || byte === CR || byte === TAB) {
        if (byte === LF) this.#tagLines++;
        byte = bytes[++at] as number;
      }
      if (byte === GREATER) return at + 1;
      if (byte === SLASH) {
        if (at + 1 >= this.#end) return INCOMPLETE;
        if (bytes[at + 1] !== GREATER) throw this.#malformed('"/" stands inside a tag');
        return at + 2;
      }
      if (at >= this.#end) return INCOMPLETE;
      if (at === gap) throw this.#malformed(`no blank stands before an attribute of ${quotedName(name)}`);
      at = this.#attribute(at, name);
      if (at === INCOMPLETE) return INCOMPLETE;
    }
  }

  #attribute(from: number, element: Name): number {
    const index = this.count;
    const name = this.#nameAt(from, element.lastAttributes[index]);
    if (name === undefined) return INCOMPLETE;
    const attributes = this.#attributes;
    for (let other = 0; other < index; other++) {
      if (attributes[other] === name) throw this.#malformed(`the attribute ${quotedName(name)} is given twice`);
    }
    if (index >= this.limits.xmlAttributes) throw this.#over(`an element has more attributes`, 'xmlAttributes');
    const start = this.#valueStartAt(this.#nameEnd, name);
    if (start === INCOMPLETE) return INCOMPLETE;
    const end = this.#valueEndAt(start);
    if (end === INCOMPLETE) return INCOMPLETE;
    attributes[index] = element.lastAttributes[index] = name;
    this.#valueStart[index] = start;
    this.#valueEnd[index] = end;
    this.count = index + 1;
    if (!name.isPlain) this.isPlain = false;
    return end + 1;
  }

  /** Past `=` and the opening quote. */
  #valueStartAt(from: number, name: Name): number {
    const bytes = this.#bytes;
    let at = from;
    while (isBlank(bytes[at])) if (bytes[at++] === LF) this.#tagLines++;
    if (bytes[at] === EQUALS) {
      at++;
      while (isBlank(bytes[at])) if (bytes[at++] === LF) this.#tagLines++;
      if (bytes[at] === QUOTE || bytes[at] === APOSTROPHE) return at + 1;
    }
    if (at >= this.#end) return INCOMPLETE;
    throw this.#malformed(`the attribute ${quotedName(name)} has no quoted value`);
  }

  #valueEndAt(start: number): number {
    const bytes = this.#bytes;
    const quote = bytes[start - 1];
    let at = start;
    for (;;) {
      while (IN_VALUE[bytes[at] as number] === 0) at++;
      const byte = bytes[at];
      if (byte === quote) break;
      if (byte === LESS) throw this.#malformed('"<" stands in an attribute value');
      if (at >= this.#end) return INCOMPLETE;
      if (byte === AMPERSAND) {
        at = this.#reference(at);
        if (at === INCOMPLETE) return INCOMPLETE;
      } else if (byte === LF) {
        this.#tagLines++;
        at++;
      } else at = this.#special(at);
    }
    const { xmlValueLength } = this.limits;
    if (at - start > xmlValueLength && bytes.toString('utf8', start, at).length > xmlValueLength) {
      throw this.#over('an attribute value is too long', 'xmlValueLength');
    }
    return at;
  }

  /** The name that stands at a place; undefined if the window ends in it. Sets where it ends. */
  #nameAt(at: number, expected: Name | undefined): Name | undefined {
    const bytes = this.#bytes;
    if (expected !== undefined && matches(bytes, at, expected.bytes)) {
      const end = at + expected.bytes.length;
      if (NAME_BYTE[bytes[end] as number] === 0) {
        this.#nameEnd = end;
        return end < this.#end ? expected : undefined;
      }
    }
    let end = at;
    while (NAME_BYTE[bytes[end] as number] === 1) end++;
    if (end >= this.#end) return undefined;
    const name = this.#names.get(bytes.subarray(at, end));
    if (name === undefined) throw this.#malformed('something that is no name stands where one has to');
    this.#nameEnd = end;
    return name;
  }

  #malformed(detail: string): XmlFault {
    this.line += this.#tagLines;
    this.#tagLines = 0;
    return new XmlFault('malformed', detail);
  }

  #over(detail: string, limit: NonNullable<XmlFault['limit']>): XmlFault {
    return new XmlFault('limit', detail, limit);
  }
}

function matches(bytes: Buffer, at: number, expected: Uint8Array): boolean {
  const { length } = expected;
  for (let index = 0; index < length; index++) if (bytes[at + index] !== expected[index]) return false;
  return true;
}

/** Whether what is seen is, as far as it goes, the start of something. */
function startsAlike(seen: Buffer, start: Buffer): boolean {
  const length = Math.min(seen.length, start.length);
  return seen.compare(start, 0, length, 0, length) === 0;
}

function quotedName({ text }: Name): string {
  return `"${text.slice(0, 60)}"`;
}
