import { InputError, quoted } from '../../errors.js';
import type { Limits } from '../../limits.js';
import { Bulk } from './bulk.js';
import { declaredEncoding } from './declaration.js';
import { Utf8Source } from './encoding.js';
import { XmlFault } from './fault.js';
import type { AttributeNames, Name, Wanted } from './names.js';
import { isForbiddenDeclaration, NamespaceScopes, schemaOf } from './namespace.js';
import { type TagHandler, XmlScanner } from './scanner.js';
import type { TagValues } from './tag.js';
import { Window } from './window.js';

/** Attributes of an element, by name; those of a namespace of their own carry its prefix. */
export type Attributes = Readonly<Record<string, string>>;

/** What a reader of a document is told, in document order. */
export interface ElementHandler {
  /**
   * What it wants to be told. All else is checked as strictly, but nothing is made of it; nor of elements of foreign
   * namespaces, and of what is in these.
   */
  readonly wanted: Wanted;
  open(name: string, attributes: Attributes, context: ElementContext): void;
  close?(name: string): void;
}

export interface ElementContext {
  /** Local name of the parent, `''` for the root. */
  readonly parent: string;
  /** 1 for the root. */
  readonly depth: number;
  /** Line of the document at the end of the start tag, from 1. */
  readonly line: number;
}

/**
 * Reads a document as a stream, strictly: well-formed XML 1.0 with namespaces, no document type, within the limits of
 * depth, attribute count, value and tag length. Memory does not grow with the document.
 * @returns the schema number of the document's namespace
 * @throws InputError `malformed-xml`, `unreadable-encoding`, `wrong-namespace` or `limit-exceeded`, with part and line
 */
export async function readXml(
  chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  part: string,
  limits: Limits,
  handler: ElementHandler,
): Promise<number> {
  const bulk = Bulk.take();
  try {
    const reader = new XmlReader(part, limits, handler, bulk);
    for await (const chunk of chunks) reader.write(chunk);
    return reader.end();
  } finally {
    bulk.release();
  }
}

/** An object that inherits nothing, whatever the names in it; quicker to make than one without a prototype. */
class Values {
  [name: string]: string;

  static {
    Object.setPrototypeOf(Values.prototype, null);
    Reflect.deleteProperty(Values.prototype, 'constructor');
  }
}

class XmlReader implements TagHandler {
  readonly #source: Utf8Source;
  readonly #window: Window;
  readonly #scanner: XmlScanner;
  readonly #scopes = new NamespaceScopes();
  readonly #path: string[] = [];
  /** Depth at which a foreign element opened. */
  #foreignFrom = 0;
  #namespace: string | undefined;
  #schema = 0;
  /** Elements that the handler was told of. */
  #told = 0;

  constructor(
    readonly part: string,
    readonly limits: Limits,
    readonly handler: ElementHandler,
    bulk: Bulk,
  ) {
    this.#source = new Utf8Source(part);
    this.#window = new Window(bulk);
    this.#scanner = new XmlScanner(this, limits, bulk, handler.wanted);
  }

  write(chunk: Uint8Array): void {
    this.#scan(this.#source.next(chunk), false);
  }

  end(): number {
    this.#scan(this.#source.end(), true);
    return this.#schema;
  }

  declaration(text: string): void {
    this.#source.requireDeclared(declaredEncoding(text));
  }

  open(name: Name, tag: TagValues): void {
    const depth = this.#path.length + 1;
    if (!tag.isPlain) this.#declare(depth, tag);
    const uri = name.prefix === '' ? this.#scopes.byDefault : this.#resolve(name.prefix);
    if (this.#namespace === undefined) this.#begin(uri, name);
    const parent = this.#path[depth - 2] ?? '';
    this.#path.push(name.local);
    if (this.#foreignFrom === 0 && uri !== this.#namespace) this.#foreignFrom = depth;
    if (name.wanted === undefined || this.#foreignFrom !== 0) return;
    const { elementsRead } = this.limits;
    if (++this.#told > elementsRead)
      throw new XmlFault(`more than ${elementsRead} elements are to be read`, 'elementsRead');
    this.handler.open(name.local, this.#attributesOf(tag, name.wanted), { parent, depth, line: this.#scanner.line });
  }

  passed({ local }: Name): void {
    this.#path.push(local);
  }

  close(name: Name): void {
    const depth = this.#path.length;
    this.#path.pop();
    this.#scopes.close(depth);
    if (this.#foreignFrom === 0) {
      if (name.wanted !== undefined) this.handler.close?.(name.local);
    } else if (this.#foreignFrom === depth) this.#foreignFrom = 0;
  }

  #scan(piece: Uint8Array, isLast: boolean): void {
    this.#window.append(piece);
    try {
      const isValid = this.#window.scan(isLast, (bytes, end) => this.#scanner.scan(bytes, end, isLast));
      if (!isValid) throw this.#source.fault();
    } catch (cause) {
      throw cause instanceof XmlFault ? this.#fault(cause) : cause;
    }
  }

  #begin(uri: string, { local }: Name): void {
    this.#schema = schemaOf(uri, local, this.part);
    this.#namespace = uri;
  }

  /** Takes the namespace declarations of a tag, and holds the prefixes of its attributes against those in scope. */
  #declare(depth: number, tag: TagValues): void {
    const declarations = new Map<string, string>();
    for (let index = 0; index < tag.count; index++) {
      const { isDeclaration, prefix, local } = tag.name(index);
      if (!isDeclaration) continue;
      const declared = prefix === '' ? '' : local;
      const uri = tag.value(index);
      if (isForbiddenDeclaration(declared, uri)) {
        throw new XmlFault(`the namespace prefix ${quoted(declared)} must not be declared so`);
      }
      declarations.set(declared, uri);
    }
    this.#scopes.open(depth, declarations);
    const seen = new Map<string, Set<string>>(); // by namespace, as a name of it may be long
    for (let index = 0; index < tag.count; index++) {
      const { isDeclaration, prefix, local } = tag.name(index);
      if (isDeclaration || prefix === '') continue;
      const uri = this.#resolve(prefix);
      const names = seen.get(uri) ?? new Set();
      if (names.has(local)) throw new XmlFault(`the attribute ${quoted(local)} is given twice`);
      seen.set(uri, names.add(local));
    }
  }

  #resolve(prefix: string): string {
    const uri = this.#scopes.resolve(prefix);
    if (uri === undefined) throw new XmlFault(`the namespace prefix ${quoted(prefix)} is not declared`);
    return uri;
  }

  #fault({ message, limit }: XmlFault): InputError {
    const place = { part: this.part, line: this.#scanner.faultLine };
    if (limit === undefined) return new InputError('malformed-xml', message, place);
    return new InputError('limit-exceeded', `${message}; the limit ${limit} is ${this.limits[limit]}`, place);
  }

  /** What is read is kept, and may stand in the report once for each device: it is held shorter than what is passed over. */
  #attributesOf(tag: TagValues, wanted: AttributeNames): Attributes {
    const attributes: Record<string, string> = new Values();
    for (let index = 0; index < tag.count; index++) {
      const { text } = tag.name(index);
      if (!wanted.has(text)) continue;
      const value = tag.value(index);
      if (value.length > this.limits.readValueLength) {
        throw new XmlFault(`the value of ${quoted(text)} has ${value.length} characters`, 'readValueLength');
      }
      attributes[text] = value;
    }
    return attributes;
  }
}
