import type { Document } from 'yaml';
import type { z } from 'zod';
import { quoted } from '../errors.js';

/** A document that a person wrote cannot be used; each fault says where, what stands there and what is allowed. */
export class DocumentError extends Error {
  override readonly name = 'DocumentError';

  constructor(readonly faults: readonly string[]) {
    super(faults.join('; '));
  }
}

/** How a text of the document is shown in an error. */
export type Shown = (text: string, path: readonly PropertyKey[]) => string;

/** So many faults are told of; whoever has more of them mends these first. */
export const MOST_FAULTS = 20;

/** What a document says, and where. */
export interface ParsedDocument {
  readonly value: unknown;
  /** The line, from 1, on which a value begins; that of the document where there is none. */
  readonly lineOf: (path: readonly PropertyKey[]) => number;
}

/**
 * What a text in YAML or JSON says; nothing at all is an empty mapping.
 * @throws DocumentError where it is neither, or holds a key twice
 */
export async function parseDocument(source: string): Promise<unknown> {
  return (await parseWithLines(source)).value;
}

/** The same, with the lines. */
export async function parseWithLines(source: string): Promise<ParsedDocument> {
  // Large, and of use only to who writes a document.
  const yaml = await import('yaml');
  try {
    // The library would hold every key of a mapping against every other.
    const lineCounter = new yaml.LineCounter();
    const document = yaml.parseDocument(source, { logLevel: 'error', uniqueKeys: false, lineCounter });
    const [fault] = document.errors;
    if (fault !== undefined) throw fault;
    refuseRepeatedKeys(document, yaml);
    const lineOf = (path: readonly PropertyKey[]) => {
      const node = document.getIn(path, true);
      return yaml.isNode(node) && node.range ? lineCounter.linePos(node.range[0]).line : 1;
    };
    return { value: document.toJS() ?? {}, lineOf };
  } catch (cause) {
    if (cause instanceof DocumentError) throw cause;
    if (isTooDeep(cause)) throw new DocumentError(['it is nested too deeply']);
    throw new DocumentError([faultText(cause as Error)]);
  }
}

function refuseRepeatedKeys(document: Document, { isScalar, visit }: typeof import('yaml')): void {
  visit(document, {
    Map(_, { items }) {
      const seen = new Set<string>();
      for (const { key } of items) {
        const name = String(isScalar(key) ? key.value : key);
        if (seen.has(name)) throw new DocumentError([`the key ${quoted(name)} stands twice in one mapping`]);
        seen.add(name);
      }
    },
  });
}

/** The first line of what the library says, which may hold a name out of the document, of any length. */
function faultText({ message }: Error): string {
  const [said = ''] = message.split('\n');
  if (said.includes('parseAllDocuments')) return 'it holds several documents; keep one';
  return `it is neither YAML nor JSON: ${quoted(said.replace(/:$/, ''))}`;
}

/** The parser wraps the error of a stack that is full where it can. */
function isTooDeep(cause: unknown): boolean {
  return cause instanceof RangeError || (cause as { readonly code?: unknown }).code === 'RESOURCE_EXHAUSTION';
}

/**
 * Holds what a document says against its shape.
 * @throws DocumentError with path, value and what is allowed for each fault
 */
export function checkDocument<T>(shape: z.ZodType<T>, given: unknown, shown: Shown = quoted): T {
  const result = shape.safeParse(given);
  if (result.success) return result.data;
  // An empty text is too short and of no pattern; both are told in the same words.
  const faults = [...new Set(result.error.issues.flatMap((issue) => faultsOf(issue, given, shown)))];
  throw refusalFor(faults);
}

/** The error that tells of the first faults, and how many there are beyond them. */
export function refusalFor(faults: readonly string[]): DocumentError {
  const rest = faults.length - MOST_FAULTS;
  return new DocumentError(rest > 0 ? [...faults.slice(0, MOST_FAULTS), `${rest} more of the kind`] : faults);
}

/** Where something stands: `products[2].currentMa`. */
export function placeOf(path: readonly PropertyKey[]): string {
  const place = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${quotedKey(String(step))}`)).join('');
  return place.replace(/^\./, '') || 'the file';
}

function quotedKey(key: string): string {
  return /^[\w-]{1,60}$/.test(key) ? key : quoted(key);
}

function faultsOf(issue: z.core.$ZodIssue, given: unknown, shown: Shown): string[] {
  const where = placeOf(issue.path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => `${where}: there is no key ${shown(key, issue.path)}; this is ${issue.message}`);
  }
  return [`${where}: ${valueAt(issue, given, shown)} is not allowed; it takes ${issue.message}`];
}

/** A number where a text is wanted is called one: in quotation marks it would look like the text that is missing. */
function valueAt(issue: z.core.$ZodIssue, given: unknown, shown: Shown): string {
  const { path } = issue;
  let found = given;
  for (const step of path) found = (found as Record<PropertyKey, unknown> | null | undefined)?.[step];
  if (found === undefined) return 'nothing';
  if (typeof found === 'object' && found !== null) return Array.isArray(found) ? 'a list' : 'a mapping';
  const isNoText = typeof found === 'number' && issue.code === 'invalid_type' && issue.expected === 'string';
  return isNoText ? `the number ${found}` : shown(String(found), path);
}
