import { SaxesParser, type SaxesTagPlain } from 'saxes';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { Decoder } from './decode.js';
import { NamespaceScopes, schemaOf } from './namespace.js';

/** Attributes of an element, by name; those of a namespace of their own carry its prefix. */
export type Attributes = Readonly<Record<string, string>>;

/** What a reader of a document is told, in document order. Elements of foreign namespaces are left out, with all in them. */
export interface ElementHandler {
  open(name: string, attributes: Attributes, context: ElementContext): void;
  close?(name: string): void;
}

export interface ElementContext {
  /** Local name of the parent, `''` for the root. */
  readonly parent: string;
  /** Line of the document at the end of the start tag, from 1. */
  readonly line: number;
}

/**
 * Reads a document as a stream, strictly: well-formed XML 1.0 with namespaces, no document type, within the limits of
 * depth, attribute count and value length. Memory does not grow with the document.
 * @returns the schema number of the document's namespace
 * @throws InputError `malformed-xml`, `unreadable-encoding`, `wrong-namespace` or `limit-exceeded`, with part and line
 */
export async function readXml(
  chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  part: string,
  limits: Limits,
  handler: ElementHandler,
): Promise<number> {
  const reader = new XmlReader(part, limits, handler);
  for await (const chunk of chunks) reader.write(chunk);
  return reader.end();
}

class XmlReader {
  readonly #parser = new SaxesParser({ xmlns: false, position: false });
  readonly #decoder: Decoder;
  readonly #scopes = new NamespaceScopes();
  readonly #names: string[] = [];
  /** Depth at which a foreign element opened; what is inside it is checked but not told. */
  #foreignFrom = 0;
  #namespace: string | undefined;
  #schema = 0;

  constructor(
    readonly part: string,
    readonly limits: Limits,
    readonly handler: ElementHandler,
  ) {
    this.#decoder = new Decoder(part);
    this.#parser.on('xmldecl', ({ encoding }) => this.#decoder.requireDeclared(encoding));
    this.#parser.on('doctype', () => {
      throw this.#malformed('a document type declaration is not allowed');
    });
    this.#parser.on('opentag', (tag) => this.#open(tag));
    this.#parser.on('closetag', () => this.#close());
  }

  write(chunk: Uint8Array): void {
    this.#feed(() => this.#parser.write(this.#decoder.decode(chunk)));
  }

  end(): number {
    this.#feed(() => {
      this.#parser.write(this.#decoder.end());
      this.#parser.close();
    });
    if (this.#namespace === undefined) throw this.#malformed('the document is empty');
    return this.#schema;
  }

  #feed(step: () => void): void {
    try {
      step();
    } catch (cause) {
      throw cause instanceof InputError ? cause : this.#malformed((cause as Error).message);
    }
  }

  #open({ name, attributes }: SaxesTagPlain): void {
    const depth = this.#names.length + 1;
    this.#checkAttributes(attributes, depth);
    const colon = name.indexOf(':');
    const uri = this.#resolve(colon < 0 ? '' : name.slice(0, colon));
    const local = colon < 0 ? name : name.slice(colon + 1);
    if (this.#namespace === undefined) {
      this.#schema = schemaOf(uri, local, this.part);
      this.#namespace = uri;
    }
    if (depth > this.limits.xmlDepth) throw this.#over(`elements are nested ${depth} deep`, 'xmlDepth');
    const parent = this.#names.at(-1) ?? '';
    this.#names.push(local);
    if (this.#foreignFrom === 0 && uri !== this.#namespace) this.#foreignFrom = depth;
    if (this.#foreignFrom === 0) this.handler.open(local, attributes, { parent, line: this.#parser.line });
  }

  #close(): void {
    const depth = this.#names.length;
    const name = this.#names.pop() ?? '';
    this.#scopes.close(depth);
    if (this.#foreignFrom === 0) this.handler.close?.(name);
    else if (this.#foreignFrom === depth) this.#foreignFrom = 0;
  }

  /** Limits of the attributes, the namespace declarations among them, and prefixes that nobody declared. */
  #checkAttributes(attributes: Attributes, depth: number): void {
    let declarations: Map<string, string> | undefined;
    let prefixed: string[] | undefined;
    let count = 0;
    for (const name in attributes) {
      count++;
      const value = attributes[name] as string;
      if (value.length > this.limits.xmlValueLength) {
        throw this.#over(`an attribute value has ${value.length} characters`, 'xmlValueLength');
      }
      if (name === 'xmlns') declarations = (declarations ?? new Map()).set('', value);
      else if (name.startsWith('xmlns:')) declarations = (declarations ?? new Map()).set(name.slice(6), value);
      else if (name.includes(':')) prefixed = [...(prefixed ?? []), name];
    }
    if (count > this.limits.xmlAttributes) throw this.#over(`an element has ${count} attributes`, 'xmlAttributes');
    if (declarations !== undefined) this.#scopes.open(depth, declarations);
    for (const name of prefixed ?? []) this.#resolve(name.slice(0, name.indexOf(':')));
  }

  #resolve(prefix: string): string {
    const uri = this.#scopes.resolve(prefix);
    if (uri === undefined) throw this.#malformed(`the namespace prefix "${prefix.slice(0, 40)}" is not declared`);
    return uri;
  }

  #malformed(detail: string): InputError {
    return new InputError('malformed-xml', detail, { part: this.part, line: this.#parser.line });
  }

  #over(what: string, limit: 'xmlDepth' | 'xmlValueLength' | 'xmlAttributes'): InputError {
    const place = { part: this.part, line: this.#parser.line };
    return new InputError('limit-exceeded', `${what}; the limit ${limit} is ${this.limits[limit]}`, place);
  }
}
