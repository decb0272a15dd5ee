import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { InputError } from '../../src/errors.js';
import { needsPython, python } from '../support/python.js';
import { NAMESPACE, pieces, tell } from '../support/xml.js';

/**
 * The strict reader against expat, the parser of the Python standard library: of the same documents, most of them broken
 * in some way, both refuse the same ones and tell the same elements of the others.
 */
const READER = fileURLToPath(new URL('expat_reader.py', import.meta.url));

type Elements = readonly (readonly [name: string, attributes: Readonly<Record<string, string>>, parent: string])[];

/** Elements, or in a word why there are none. */
type Reading = Elements | 'not well-formed' | 'another namespace';

function readByExpat(documents: readonly string[]): Reading[] {
  const folder = mkdtempSync(join(tmpdir(), 'expat-'));
  try {
    const path = join(folder, 'documents.json');
    writeFileSync(path, JSON.stringify(documents.map((text) => Buffer.from(text).toString('base64'))));
    return JSON.parse(python(READER, path).toString()) as Reading[];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function readHere(document: string, size: number): Promise<Reading> {
  try {
    const { events } = await tell(pieces(Buffer.from(document), size));
    return events.map(([name, attributes, parent]) => [name, withoutDeclarations(attributes), parent]);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    if (error.code === 'wrong-namespace') return 'another namespace';
    expect(error.code).toBe('malformed-xml');
    return 'not well-formed';
  }
}

function withoutDeclarations(attributes: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(Object.entries(attributes).filter(([name]) => !/^xmlns(:|$)/.test(name)));
}

/** Left as it is: expat minds neither its version nor the order in it. */
const DECLARATION = '<?xml version="1.0" encoding="utf-8"?>';

/** A document with one of everything that it may hold. */
const WHOLE = `${DECLARATION}
<!-- before --><?print me?><k:KNX xmlns:k="${NAMESPACE}" xmlns="urn:x" a="1" k:a='2'
  xml:lang="en"><k:b x="&lt;&#65;&#x20AC;" y="ä€😀"/>text &amp; more<![CDATA[ <no> ]] > ]]><k:c ><d xmlns="${NAMESPACE}">
  <e é="1"></e ></d><f/></k:c>
<!-- in - between --></k:KNX><!-- after -->
`;

/** Pieces that mean something to a reader; none that may stand in a name by one edition of XML 1.0 and not by another. */
const TOKENS = [
  ...[
    '<',
    '>',
    '/',
    '/>',
    '</',
    '=',
    '"',
    "'",
    '&',
    ';',
    '<!',
    '<?',
    '?>',
    '<!--',
    '-->',
    '--',
    '-',
    ']]>',
    ']',
    '<![CDATA[',
  ],
  ...[' ', '\n', '\r\n', '\t', '\u00a0', '\u0000', '\u0001', '\u007f', '\u0085', '\u2028', '\ufffe', '\uffff'],
  ...[
    '&amp;',
    '&lt',
    '&nbsp;',
    '&#0;',
    '&#9;',
    '&#x;',
    '&#xD800;',
    '&#xFFFE;',
    '&#x10FFFF;',
    '&#x110000;',
    '&#65',
    '&#X41;',
    '&#1;',
  ],
  ...[
    'a',
    'é',
    '1',
    'x="1"',
    " x='2'",
    ' k:x="3"',
    ' xmlns:k="urn:y"',
    ' xmlns=""',
    ' xmlns:k=""',
    ' xmlns:xml="urn:y"',
  ],
  ...[
    ' xmlns:xmlns="urn:y"',
    ' xmlns:q="http://www.w3.org/XML/1998/namespace"',
    ' q:x=""',
    ':',
    'k:',
    'b:',
    '<a>',
    '</a>',
    '<a/>',
  ],
  ...[
    '<k:b>',
    '</k:b>',
    '<d>',
    '</d>',
    '<?xml version="1.0"?>',
    '<?xml ?>',
    '<?XML?>',
    '<?p?>',
    '<? p?>',
    '<!-->',
    '<!--->',
    '<!DOCTYPE a>',
  ],
] as const;

const change = fc.record({
  at: fc.integer({ min: DECLARATION.length, max: WHOLE.length }),
  drops: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, { weight: 2, arbitrary: fc.nat({ max: 12 }) }),
  adds: fc.oneof(fc.constant(''), fc.constantFrom(...TOKENS), fc.constantFrom(...TOKENS)),
});

/** The whole document with a few changes in it, or some tokens inside a root. */
const anyDocument = fc.oneof(
  fc.array(change, { minLength: 0, maxLength: 3 }).map((changes) => {
    let text = WHOLE;
    for (const { at, drops, adds } of changes) text = text.slice(0, at) + adds + text.slice(at + drops);
    return text.replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '');
  }),
  fc
    .array(fc.constantFrom(...TOKENS), { maxLength: 6 })
    .map((tokens) => `<k:KNX xmlns:k="${NAMESPACE}">${tokens.join('')}</k:KNX>`),
  fc
    .array(fc.constantFrom(...TOKENS), { maxLength: 4 })
    .map((tokens) => `<k:KNX xmlns:k="${NAMESPACE}"><k:b ${tokens.join('')}/></k:KNX>`),
);

/** Names of instructions with a colon have a test of their own, with what else namespaces forbid. */
const document = anyDocument.filter((text) => !/<\?[^\s?]*:/.test(text));

test('random documents, sound and broken, are read alike', async (context) => {
  needsPython(context);
  const seed = Math.floor(Math.random() * 2 ** 31); // shown with what differs
  const cases = fc.sample(fc.tuple(document, fc.constantFrom(1, 2, 7, 1 << 20)), { seed, numRuns: 3000 });
  const byExpat = readByExpat(cases.map(([text]) => text));
  for (const [index, [text, size]] of cases.entries()) {
    const reading = await readHere(text, size);
    expect({ seed, text, size, reading }).toEqual({ seed, text, size, reading: byExpat[index] });
  }
  const sound = byExpat.filter((reading) => typeof reading !== 'string').length;
  expect(sound).toBeGreaterThan(cases.length / 10);
  expect(cases.length - sound).toBeGreaterThan(cases.length / 10);
});
