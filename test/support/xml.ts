import { readTopology, type TopologyDocument } from '../../src/interchange/topology.js';
import { Bulk } from '../../src/interchange/xml/bulk.js';
import { declaredEncoding } from '../../src/interchange/xml/declaration.js';
import { Utf8Source } from '../../src/interchange/xml/encoding.js';
import { type Attributes, readXml } from '../../src/interchange/xml/reader.js';
import { XmlScanner } from '../../src/interchange/xml/scanner.js';
import { Window } from '../../src/interchange/xml/window.js';
import { DEFAULT_LIMITS, type Limits } from '../../src/limits.js';

export const namespaceOf = (schema: number) => `http://knx.org/xml/project/${schema}`;

export const NAMESPACE = namespaceOf(23);

/** A document of the interchange form around some content. */
export function knx(content: string, schema = 23): string {
  return `<?xml version="1.0" encoding="utf-8"?>\n<KNX xmlns="${namespaceOf(schema)}">${content}</KNX>`;
}

/** A topology document of one installation; the content stands inside `Topology`. */
export function topologyXml(content: string, schema = 23): string {
  const installation = `<Installation Name="House"><Topology>${content}</Topology></Installation>`;
  return knx(`<Project Id="P-0001"><Installations>${installation}</Installations></Project>`, schema);
}

/** A maker's product data; the content stands inside the list of `Hardware`. */
export function hardwareXml(content: string, maker = 'M-F0A1', schema = 23): string {
  const list = `<Manufacturer RefId="${maker}"><Hardware>${content}</Hardware></Manufacturer>`;
  return knx(`<ManufacturerData>${list}</ManufacturerData>`, schema);
}

const MARK = '¦';

/** A text in which a mark stands at the end of what a reader has to see of a fault, and the line of the mark, from 1. */
export function marked(text: string): { text: string; line: number } {
  const [before, after, ...more] = text.split(MARK);
  if (before === undefined || after === undefined || more.length > 0) throw new Error('the text needs one mark');
  return { text: before + after, line: before.split(/\r\n|\r|\n/).length };
}

/** A text as bytes, in one of the encodings that a document may have. */
export function encoded(text: string, encoding: 'utf-8' | 'utf-16le' | 'utf-16be', withMark = encoding !== 'utf-8') {
  const whole = withMark ? `\ufeff${text}` : text;
  if (encoding === 'utf-8') return Buffer.from(whole, 'utf8');
  const littleEndian = Buffer.from(whole, 'utf16le');
  return encoding === 'utf-16le' ? littleEndian : littleEndian.swap16();
}

/** The document in pieces of a given size. */
export function* pieces(bytes: Uint8Array, size: number): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

export interface Told {
  readonly schema: number;
  readonly events: readonly (readonly [name: string, attributes: Attributes, parent: string, line: number])[];
  readonly closed: readonly string[];
}

/** What the stream reader tells of a document named `part.xml`. */
export async function tell(
  document: string | Uint8Array | Iterable<Uint8Array>,
  limits: Partial<Limits> = {},
): Promise<Told> {
  const bytes = typeof document === 'string' ? [Buffer.from(document)] : document;
  const chunks = bytes instanceof Uint8Array ? [bytes] : bytes;
  const events: [string, Attributes, string, number][] = [];
  const closed: string[] = [];
  const handler = {
    wanted: { get: () => ({ has: () => true }) },
    open: (name: string, attributes: Attributes, { parent, line }: { parent: string; line: number }) => {
      events.push([name, { ...attributes }, parent, line]);
    },
    close: (name: string) => {
      closed.push(name);
    },
  };
  const schema = await readXml(chunks, 'part.xml', { ...DEFAULT_LIMITS, ...limits }, handler);
  return { schema, events, closed };
}

/** What the reader of topology documents makes of one named `P-0001/0.xml`. */
export function topologyOf(document: string): Promise<TopologyDocument> {
  const chunks = async function* () {
    yield Buffer.from(document);
  };
  return readTopology(chunks(), 'P-0001/0.xml', DEFAULT_LIMITS);
}

/**
 * Reads any XML, whatever its root: encoding and well-formedness alone, without namespaces.
 * @throws XmlFault or InputError as the reader does
 */
export function scan(chunks: Iterable<Uint8Array>): void {
  const bulk = Bulk.take();
  const source = new Utf8Source('part.xml');
  const window = new Window(bulk);
  const handler = {
    open() {},
    close() {},
    passed() {},
    declaration: (text: string) => source.requireDeclared(declaredEncoding(text)),
  };
  const scanner = new XmlScanner(handler, DEFAULT_LIMITS, bulk, new Map());
  const feed = (bytes: Uint8Array, isLast: boolean) => {
    window.append(bytes);
    if (!window.scan(isLast, (all, end) => scanner.scan(all, end, isLast))) throw source.fault();
  };
  for (const chunk of chunks) feed(source.next(chunk), false);
  feed(source.end(), true);
  bulk.release();
}
