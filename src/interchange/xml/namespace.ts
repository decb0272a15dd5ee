import { InputError, quoted } from '../../errors.js';

/** The interchange namespaces; the number at the end is the schema's. */
const NAMESPACE = /^http:\/\/knx\.org\/xml\/project\/(\d{1,4})$/;

export const ROOT = 'KNX';

/** The schema number of a document, from the namespace and local name of its root element. */
export function schemaOf(uri: string, localName: string, part: string): number {
  const match = NAMESPACE.exec(uri);
  if (match === null) {
    const found = uri === '' ? 'no namespace' : `the namespace ${quoted(uri)}`;
    throw new InputError('wrong-namespace', `the root element is in ${found}, not in http://knx.org/xml/project/<n>`, {
      part,
    });
  }
  if (localName !== ROOT) {
    throw new InputError('wrong-namespace', `the root element is ${quoted(localName)}, not ${ROOT}`, { part });
  }
  return Number(match[1]);
}

const XML = 'http://www.w3.org/XML/1998/namespace';
const XMLNS = 'http://www.w3.org/2000/xmlns/';

/** Whether a declaration is one that Namespaces in XML 1.0 §3 and §5 forbid. */
export function isForbiddenDeclaration(prefix: string, uri: string): boolean {
  if (prefix === 'xml') return uri !== XML;
  return prefix === 'xmlns' || uri === XML || uri === XMLNS || (prefix !== '' && uri === '');
}

/** What the element at a depth declares. */
interface Scope {
  readonly depth: number;
  readonly bindings: ReadonlyMap<string, string>;
}

/**
 * Prefix bindings in scope, as far as a document declares any. Each scope holds its own alone: a copy of those around it
 * would make every element pay for all declarations that it stands in.
 */
export class NamespaceScopes {
  readonly #scopes: Scope[] = [{ depth: 0, bindings: new Map([['xml', XML]]) }];

  /** The namespace of names without a prefix; `''` is none. */
  byDefault = '';

  /** Takes the declarations of an element that opens at a depth. */
  open(depth: number, bindings: ReadonlyMap<string, string>): void {
    if (bindings.size === 0) return;
    this.#scopes.push({ depth, bindings });
    this.byDefault = this.resolve('') ?? '';
  }

  /** Forgets the declarations of the element that closes at a depth. */
  close(depth: number): void {
    if (this.#scopes.at(-1)?.depth !== depth) return;
    this.#scopes.pop();
    this.byDefault = this.resolve('') ?? '';
  }

  /** The namespace bound to a prefix (`''` is the default one); undefined if the prefix is not bound. */
  resolve(prefix: string): string | undefined {
    for (let index = this.#scopes.length - 1; index >= 0; index--) {
      const uri = this.#scopes[index]?.bindings.get(prefix);
      if (uri !== undefined) return uri;
    }
    return prefix === '' ? '' : undefined;
  }
}
