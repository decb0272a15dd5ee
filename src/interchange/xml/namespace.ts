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

/** The prefixes that the element at a depth declares. */
interface Scope {
  readonly depth: number;
  readonly prefixes: readonly string[];
}

/**
 * Prefix bindings in scope, as far as a document declares any: for each prefix those of the elements around, innermost
 * last. So nobody pays for declarations that others have made.
 */
export class NamespaceScopes {
  readonly #bindings = new Map([['xml', [XML]]]);
  readonly #scopes: Scope[] = [];

  /** The namespace of names without a prefix; `''` is none. */
  byDefault = '';

  /** Takes the declarations of an element that opens at a depth. */
  open(depth: number, declarations: ReadonlyMap<string, string>): void {
    if (declarations.size === 0) return;
    for (const [prefix, uri] of declarations) {
      const bound = this.#bindings.get(prefix);
      if (bound === undefined) this.#bindings.set(prefix, [uri]);
      else bound.push(uri);
    }
    this.#scopes.push({ depth, prefixes: [...declarations.keys()] });
    this.byDefault = this.resolve('') ?? '';
  }

  /** Forgets the declarations of the element that closes at a depth. */
  close(depth: number): void {
    const scope = this.#scopes.at(-1);
    if (scope?.depth !== depth) return;
    this.#scopes.pop();
    for (const prefix of scope.prefixes) {
      const bound = this.#bindings.get(prefix);
      bound?.pop();
      if (bound?.length === 0) this.#bindings.delete(prefix);
    }
    this.byDefault = this.resolve('') ?? '';
  }

  /** The namespace bound to a prefix (`''` is the default one); undefined if the prefix is not bound. */
  resolve(prefix: string): string | undefined {
    return this.#bindings.get(prefix)?.at(-1) ?? (prefix === '' ? '' : undefined);
  }
}
