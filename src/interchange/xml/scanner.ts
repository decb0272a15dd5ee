import { quoted } from '../../errors.js';
import type { Limits } from '../../limits.js';
import type { Bulk } from './bulk.js';
import {
  AMPERSAND,
  BANG,
  BRACKET,
  DASH,
  GREATER,
  IN_TEXT,
  isBlank,
  LESS,
  LF,
  NAME_BYTE,
  QUESTION,
  SLASH,
  specialEnd,
} from './characters.js';
import { XmlFault } from './fault.js';
import type { Name, Wanted } from './names.js';
import { referenceEnd } from './references.js';
import { CDATA, CDATA_START, COMMENT, COMMENT_START, INSTRUCTION, type Section, startsAlike } from './section.js';
import { INCOMPLETE, quotedName, standsAt, TagScanner, type TagValues } from './tag.js';

/** What a scan tells, in document order. */
export interface TagHandler {
  open(name: Name, attributes: TagValues): void;
  close(name: Name): void;
  /** An element that nobody wants, without attributes of a namespace, is open: nothing else was made of it. */
  passed(name: Name): void;
  /** The XML declaration, as it stands. */
  declaration(text: string): void;
}

/**
 * A strict scanner of well-formed XML 1.0 in UTF-8, over windows of bytes. It looks at every byte and makes no text of
 * what nobody asks for: the bulk of a topology document costs no more than looking at it.
 */
export class XmlScanner {
  /** Line of the document that the scan has come to, from 1. */
  line = 1;
  #bytes: Buffer = Buffer.alloc(0);
  #end = 0;
  #isLast = false;
  #isStart = true;
  #hasRoot = false;
  #section: Section | undefined;
  readonly #tag: TagScanner;
  readonly #open: Name[] = [];
  /** What the last element at a depth was called: what the next one most likely is. */
  readonly #expected: (Name | undefined)[] = [];

  constructor(
    readonly handler: TagHandler,
    readonly limits: Limits,
    readonly bulk: Bulk,
    wanted: Wanted,
  ) {
    this.#tag = new TagScanner(limits, wanted);
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
    this.#tag.look(bytes, end);
    let at = 0;
    while (at < end) {
      at = this.#pass(at);
      if (at >= end) break;
      const next = this.#step(at);
      if (next === INCOMPLETE) break;
      at = next;
    }
    if (isLast) this.#finish(at);
    return at;
  }

  /** Line that a fault stands on: a tag may have begun on an earlier one. */
  get faultLine(): number {
    return this.line + this.#tag.lines;
  }

  #finish(at: number): void {
    if (this.#section !== undefined) throw new XmlFault(`the document ends inside a ${this.#section.what}`);
    if (at < this.#end) throw new XmlFault('the document ends inside a tag or a reference');
    const open = this.#open.at(-1);
    if (open !== undefined) throw new XmlFault(`the document ends inside the element ${quotedName(open)}`);
    if (!this.#hasRoot) throw new XmlFault('the document has no element');
  }

  #step(at: number): number {
    if (this.#section !== undefined) return this.#inSection(at, this.#section);
    if (this.#bytes[at] !== LESS) return this.#open.length === 0 ? this.#outside(at) : this.#text(at);
    if (at + 1 >= this.#end) return INCOMPLETE;
    const second = this.#bytes[at + 1];
    if (second === SLASH) return this.#endTag(at);
    if (this.#tag.trimNames()) this.#forgetNames();
    if (second === QUESTION) return this.#instruction(at);
    this.#isStart = false;
    return second === BANG ? this.#bangMarkup(at) : this.#startTag(at);
  }

  /** Passes over plain markup. @returns where something else stands */
  #pass(at: number): number {
    const { bulk, limits } = this;
    const open = this.#open.length;
    if (open === 0 || this.#section !== undefined) return at;
    const next = bulk.pass(at, limits.xmlDepth - open, limits);
    if (next === at) return at;
    this.line += bulk.lines;
    const { openedCount } = bulk;
    for (let index = 0; index < openedCount; index++) {
      const name = bulk.opened(index);
      this.#open.push(name);
      this.handler.passed(name);
    }
    return next;
  }

  #text(from: number): number {
    const bytes = this.#bytes;
    let at = from;
    for (;;) {
      while (IN_TEXT[bytes[at] as number] === 0) at++;
      if (at >= this.#end) return at;
      const byte = bytes[at];
      if (byte === LESS) return at;
      const next = byte === AMPERSAND ? referenceEnd(bytes, at, this.#end) : this.#specialInText(at);
      if (next === INCOMPLETE) return at > from ? at : INCOMPLETE;
      at = next;
    }
  }

  #specialInText(at: number): number {
    const bytes = this.#bytes;
    if (bytes[at] === LF) this.line++;
    if (bytes[at] !== BRACKET) return specialEnd(bytes, at);
    if (at + 2 >= this.#end && !this.#isLast) return INCOMPLETE;
    if (bytes[at + 1] === BRACKET && bytes[at + 2] === GREATER) throw new XmlFault('"]]>" stands in a text');
    return at + 1;
  }

  /** Before and after the root element only blanks may stand. */
  #outside(from: number): number {
    let at = from;
    this.#isStart = false;
    while (isBlank(this.#bytes[at])) if (this.#bytes[at++] === LF) this.line++;
    if (at < this.#end && this.#bytes[at] !== LESS) {
      throw new XmlFault(this.#hasRoot ? 'text follows the root element' : 'text stands before the root element');
    }
    return at;
  }

  #inSection(from: number, { what, lookAt, mark, end }: Section): number {
    const bytes = this.#bytes;
    let at = from;
    for (;;) {
      while (lookAt[bytes[at] as number] === 0) at++;
      if (at >= this.#end) return at;
      if (bytes[at] !== mark) {
        if (bytes[at] === LF) this.line++;
        at = specialEnd(bytes, at);
      } else if (at + end.length > this.#end) return at > from ? at : INCOMPLETE;
      else if (standsAt(bytes, at, end)) {
        this.#section = undefined;
        return at + end.length;
      } else if (mark === DASH && bytes[at + 1] === DASH) throw new XmlFault(`"--" stands in a ${what}`);
      else at++;
    }
  }

  /** A comment or a CDATA section; a document type is refused. */
  #bangMarkup(at: number): number {
    const seen = this.#bytes.subarray(at, Math.min(at + CDATA_START.length, this.#end));
    const isCut = seen.length < CDATA_START.length && !this.#isLast;
    const section = startsAlike(seen, COMMENT_START) ? COMMENT : CDATA;
    const start = section === COMMENT ? COMMENT_START : CDATA_START;
    if (startsAlike(seen, start) && (section === COMMENT || this.#open.length > 0)) {
      if (seen.length < start.length) return INCOMPLETE;
      this.#section = section;
      return at + start.length;
    }
    if (isCut) return INCOMPLETE;
    const isDoctype = seen.toString('latin1').startsWith('<!DOCTYPE');
    throw new XmlFault(isDoctype ? 'a document type declaration is not allowed' : '"<!" begins no markup');
  }

  #instruction(at: number): number {
    const name = this.#tag.elementName(at + 2, undefined);
    if (name === undefined) return this.#incompleteTag(at);
    const isDeclaration = name.text === 'xml';
    if (!isDeclaration && /^xml$|:/i.test(name.text)) {
      throw new XmlFault(`a processing instruction must not be called ${quotedName(name)}`);
    }
    if (!this.#endsName(this.#tag.nameEnd)) return this.#incompleteTag(at);
    if (isDeclaration) return this.#declaration(at);
    this.#isStart = false;
    this.#section = INSTRUCTION;
    return this.#tag.nameEnd;
  }

  /** Only a blank or the end of the instruction may follow its name. @returns false if the window ends before it is certain */
  #endsName(at: number): boolean {
    const bytes = this.#bytes;
    if (isBlank(bytes[at])) return true;
    if (bytes[at] === QUESTION && at + 1 >= this.#end) return false;
    if (bytes[at] === QUESTION && bytes[at + 1] === GREATER) return true;
    throw new XmlFault('a processing instruction has no blank after its name');
  }

  #declaration(at: number): number {
    if (!this.#isStart || at !== 0) throw new XmlFault('the XML declaration does not stand at the start');
    const end = this.#bytes.subarray(0, this.#end).indexOf('?>', at);
    if (end < 0) return this.#incompleteTag(at);
    this.#isStart = false;
    const text = this.#bytes.toString('latin1', at, end + 2);
    this.handler.declaration(text);
    this.line += text.split('\n').length - 1;
    return end + 2;
  }

  #endTag(at: number): number {
    const bytes = this.#bytes;
    const open = this.#open.at(-1);
    if (open === undefined) throw new XmlFault('an end tag stands outside of any element');
    const nameEnd = at + 2 + open.bytes.length;
    if (nameEnd >= this.#end && !this.#isLast) return INCOMPLETE;
    let next = nameEnd;
    let lines = 0;
    while (isBlank(bytes[next])) if (bytes[next++] === LF) lines++;
    if (!standsAt(bytes, at + 2, open.bytes) || (next < this.#end && bytes[next] !== GREATER)) {
      return this.#refuseEndTag(at, open);
    }
    if (next >= this.#end) return this.#incompleteTag(at);
    this.line += lines;
    this.#open.pop();
    this.handler.close(open);
    return next + 1;
  }

  /** @returns INCOMPLETE where the window ends in the name that the end tag has */
  #refuseEndTag(at: number, open: Name): number {
    const bytes = this.#bytes;
    let end = at + 2;
    while (NAME_BYTE[bytes[end] as number] === 1) end++;
    if (end >= this.#end && !this.#isLast) return this.#incompleteTag(at);
    const found = bytes.toString('utf8', at + 2, end);
    if (found === open.text) throw new XmlFault(`the end tag of ${quotedName(open)} holds more than its name`);
    throw new XmlFault(`the end tag of ${quoted(found)} stands where ${quotedName(open)} has to end`);
  }

  #startTag(at: number): number {
    const name = this.#tag.elementName(at + 1, this.#expected[this.#open.length]);
    if (name === undefined) return this.#incompleteTag(at);
    if (this.#open.length === 0 && this.#hasRoot) throw new XmlFault('a second root element follows the first');
    const next = this.#tag.attributes(name);
    if (next === INCOMPLETE) return this.#incompleteTag(at);
    this.#refuseLongTag(next - at);
    this.#opened(name);
    return next;
  }

  /** Names from before are not `===` to those from now on. */
  #forgetNames(): void {
    this.#expected.length = 0;
    this.bulk.forget();
  }

  #opened(name: Name): void {
    const tag = this.#tag;
    const depth = this.#open.length;
    if (depth >= this.limits.xmlDepth) throw new XmlFault(`elements are nested ${depth + 1} deep`, 'xmlDepth');
    this.#hasRoot = true;
    this.#expected[depth] = name;
    if (!name.isTaught) this.bulk.teach(name);
    this.line += tag.lines;
    tag.lines = 0;
    if (!tag.isEmpty) this.#open.push(name);
    this.handler.open(name, tag);
    if (tag.isEmpty) this.handler.close(name);
  }

  /** A tag is scanned anew when more of it is there, so it must not grow without end. */
  #incompleteTag(at: number): number {
    this.#refuseLongTag(this.#end - at);
    if (!this.#isLast) this.#tag.lines = 0;
    return INCOMPLETE;
  }

  #refuseLongTag(bytes: number): void {
    const { xmlTagBytes } = this.limits;
    if (bytes > xmlTagBytes) throw new XmlFault(`a tag has more than ${xmlTagBytes} bytes`, 'xmlTagBytes');
  }
}
