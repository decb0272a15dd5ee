import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../src/errors.js';
import { type Attributes, readXml } from '../../src/interchange/xml/reader.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { needsPython, pythonFed } from '../support/python.js';
import { knx, NAMESPACE, pieces } from '../support/xml.js';

/**
 * The strict reader against the recommendations, XML 1.0, fifth edition, and Namespaces in XML 1.0, third edition, and
 * against expat: which documents are well-formed, and which tags they hold. Where expat is off, the recommendations decide.
 */
const EXPAT = fileURLToPath(new URL('expat_reader.py', import.meta.url));

/** All tags of a document: a start tag with its namespace, null for an end tag. Undefined: it is refused. */
type Tags = readonly (readonly [uri: string, local: string, attributes: Attributes] | null)[] | undefined;

/** The tags that the reader is to tell: start tags with attributes as written, end tags without. */
type Told = readonly (readonly [name: string, attributes?: Attributes])[] | 'malformed-xml';

interface Names {
  has(name: string): boolean;
}

const ALL: Names = { has: () => true };

/** Every attribute of these elements. */
const allOf = (names: Names) => ({ get: (name: string) => (names.has(name) ? ALL : undefined) });

const withoutDeclarations = (attributes: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(attributes).filter(([name]) => !/^xmlns(:|$)/.test(name)));

async function readHere(chunks: Iterable<Uint8Array>, wanted = ALL): Promise<Told> {
  const told: [string, Attributes?][] = [];
  const handler = {
    wanted: allOf(wanted),
    open: (name: string, attributes: Attributes) => void told.push([name, withoutDeclarations(attributes)]),
    close: (name: string) => void told.push([name]),
  };
  try {
    await readXml(chunks, 'part.xml', DEFAULT_LIMITS, handler);
    return told;
  } catch (error) {
    if (error instanceof InputError && error.code === 'malformed-xml') return error.code;
    throw error;
  }
}

function readByExpat(documents: readonly (readonly [document: string, size: number])[]): Tags[] {
  const input = documents.map(([document, size]) => [Buffer.from(document).toString('base64'), size]);
  const read = JSON.parse(pythonFed(JSON.stringify(input), EXPAT).toString()) as (Tags | null)[];
  return read.map((tags) => tags ?? undefined);
}

/** What of all tags is to be told: those of wanted elements of the form's namespace, with no foreign ones around. */
function toBeTold(tags: Tags, wanted = ALL): Told {
  if (tags === undefined) return 'malformed-xml';
  const told: [string, Attributes?][] = [];
  const path: (string | undefined)[] = [];
  for (const tag of tags) {
    if (tag === null) {
      const closed = path.pop();
      if (closed !== undefined && wanted.has(closed)) told.push([closed]);
      continue;
    }
    const [uri, local, attributes] = tag;
    const isOwn = uri === NAMESPACE && !path.includes(undefined);
    path.push(isOwn ? local : undefined);
    if (isOwn && wanted.has(local)) told.push([local, attributes]);
  }
  return told;
}

const of = (...choices: readonly string[]) => fc.constantFrom(...choices);
const joined = (part: fc.Arbitrary<string>, maxLength: number) =>
  fc.array(part, { maxLength }).map((parts) => parts.join(''));

const name = of('a', 'Line', 'x-1.2', '_b', 'é', '名', 'k:a', 'k:Line', 'o:a', 'toString');
const value = joined(
  of('', ' ', '\n', '\r\n', '\r', '\t', ...'1 ä😀 > ]]> -- &lt; &#10; &#x20AC; &amp;lt; &#38;#38;'.split(' ')),
  3,
);
const quotedValue = fc.oneof(
  value.map((text) => `"${text}'"`),
  value.map((text) => `'${text}"'`),
  value.map((text) => `"${text}"`),
);
const attribute = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(of('a', 'Id', 'é', 'k:a', 'o:a', 'xml:lang'), quotedValue) },
  {
    weight: 1,
    arbitrary: fc.tuple(of('xmlns', 'xmlns:o', 'xmlns:n'), of(`"${NAMESPACE}"`, '"urn:o"', "'urn:&#x70;'")),
  },
  { weight: 1, arbitrary: fc.constant(['xmlns', '""'] as [string, string]) },
);
const attributes = fc
  .uniqueArray(attribute, { maxLength: 4, selector: ([written]) => written.replace(/^[ko]:a$/, 'k:a') })
  .chain((all) =>
    of(' ', '\n  ', '\t').map((gap) => all.map(([written, text]) => `${gap}${written}=${text}`).join('')),
  );

/** Content of an element, with one of everything that it may hold. */
const { content } = fc.letrec<{ content: string; node: string; element: string }>((tie) => ({
  content: fc.array(tie('node'), { maxLength: 4 }).map((nodes) => nodes.join('')),
  node: fc.oneof(
    { depthSize: 'small' },
    value,
    of('<!-- - <a> & -->', '<!---->', '<![CDATA[<a> & ]] > ]]]]>', '<![CDATA[]]>', '<?p?>', '<?p <a> ? > ?>', '\n'),
    tie('element'),
    tie('element'),
  ),
  element: fc
    .tuple(name, attributes, of('', ' ', '\n'), fc.option(tie('content')))
    .map(([tag, has, gap, inside]) => `<${tag}${has}${gap}${inside === null ? '/>' : `>${inside}</${tag}${gap}>`}`),
}));

/** What means something to a reader, and what may stand in few places or in none. */
const significant = of(
  ...'<>/="\'&;!?-[]:#xk1aé \n\r\t\u0000\u0001\u007f\u0085\u2028\ufffe\uffff×·',
  ...'<! <? ?> <!-- --> -- ]]> <![CDATA[ /> </ </a> <k:a> <o:a/> &# &#x &lt xmlns xml: n: <?XmL?> <?n:p?>'.split(' '),
  ...'&nbsp; &#0; &#xD800; &#xFFFE; &#x10FFFF; &#X41;'.split(' '),
  ...['<?xml ?>', '<!DOCTYPE a>', ' a="1"', ' k:a=""', ' xmlns=""', ' xmlns:k=""', ' xmlns:k="urn:o"'],
  ...[' xmlns:xml="urn:x"', ' xmlns:xmlns="urn:x"', ' xmlns:x="http://www.w3.org/XML/1998/namespace"'],
);

const change = fc.record({
  at: fc.nat({ max: 400 }),
  drops: fc.constantFrom(0, 0, 0, 1, 2, 5),
  adds: joined(significant, 2),
});

/** Sound content with a few characters taken out, put in, or put in the place of others. */
const document = fc.tuple(content, fc.array(change, { maxLength: 3 })).map(([sound, changes]) => {
  const characters = [...`<Project xmlns:k="${NAMESPACE}" xmlns:o="urn:o">${sound}</Project>`];
  // Behind the name of the outermost element, so that most changes meet what was made.
  for (const { at, drops, adds } of changes) characters.splice(8 + (at % (characters.length - 8)), drops, ...adds);
  return knx(characters.join(''));
});

const size = fc.constantFrom(1, 2, 3, 7, 64, 1 << 20);
const wanted = fc.constantFrom<Names>(ALL, new Set(['KNX', 'a', 'é']), new Set<string>());

test('random documents, sound and broken, are read as expat reads them', async (context) => {
  needsPython(context);
  const seed = Math.floor(Math.random() * 2 ** 31); // shown with what differs
  const cases = fc.sample(fc.tuple(document, size, wanted), { seed, numRuns: 3000 });
  const byExpat = readByExpat(cases.map(([text, bytes]) => [text, bytes]));
  for (const [index, [text, bytes, names]] of cases.entries()) {
    const told = await readHere(pieces(Buffer.from(text), bytes), names);
    expect({ seed, text, bytes, told }).toEqual({ seed, text, bytes, told: toBeTold(byExpat[index], names) });
  }
  const sound = byExpat.filter((tags) => tags !== undefined).length;
  expect(sound).toBeGreaterThan(cases.length / 10);
  expect(cases.length - sound).toBeGreaterThan(cases.length / 10);
});

/** Content of a root element, by the production of XML 1.0 or section of Namespaces in XML 1.0 (NS) that allows it. */
const ALLOWED = [
  ['2, Char', '\u0085\u007f\ufffd\u{1ffff}\t\r\n'],
  ['4, NameStartChar', '<\u0133 \u{10000}="1"/>'],
  ['4, NameStartChar', '<a_\ufeff/>'],
  ['4a, NameChar', '<a·-.0\u0300/>'],
  ['4a, NameChar', '<a\u203f/>'],
  ['10, AttValue', `<a x="'>" y='">]]>'/>`],
  ['14, CharData', 'a > b ]] > ]&gt; " \''],
  ['15, Comment', '<!----><!-- - -> <a> & ]]> <!DOCTYPE a> -->'],
  ['15, Comment', '<!--->-->'],
  ['16, PI', '<?p?><?p ??><?xml-p <a> & -- ?x>??>'],
  ['20, CData', '<![CDATA[]]><![CDATA[ <a> & ]]]]><![CDATA[>]]>'],
  ['25, Eq', '<a x\n=\t"1"\r\ny ="2"/>'],
  ['42, ETag', '<a></a \n>'],
  ['44, EmptyElemTag', '<a/><a \n/>'],
  ['66, CharRef', '<a x="&#9;&#x1F600;&#0065;"/>&#xD;&#xfffd;'],
  ['68, EntityRef', '<a x="&lt;&gt;&amp;&quot;&apos;"/>&amp;lt;'],
  ['section 3.3.3, normalisation', '<a x=" \t\r\n\r\n\n \r&#10;&#13;&#32; "/>'],
  ['NS 3, xml may be declared as it is', '<a xmlns:xml="http://www.w3.org/XML/1998/namespace" xml:lang=""/>'],
  ['NS 6.1, scope of a prefix', '<n:a xmlns:n="urn:x"><n:b xmlns:n="urn:y"/></n:a>'],
  ['NS 6.2, the default is undeclared', '<a xmlns=""><b/></a><c/>'],
  ['NS 6.3, one name in two namespaces', '<n:a xmlns:n="urn:x" n:x="1" x="2"/>'],
] as const;

const FORBIDDEN = [
  ['2, Char', '\u0000'],
  ['2, Char', '<a x="\u001f"/>'],
  ['2, Char', '<!-- \ufffe -->'],
  ['2, Char', '<![CDATA[\uffff]]>'],
  ['2, Char', '<?p \u000b?>'],
  ['3, S', '<a\u000cx="1"/>'],
  ['3, S', '<a\u00a0x="1"/>'],
  ['4, NameStartChar', '<-a/>'],
  ['4, NameStartChar', '<×/>'],
  ['4, NameStartChar', '<a ·x="1"/>'],
  ['10, AttValue', '<a x="<"/>'],
  ['10, AttValue', '<a x="1\'/>'],
  ['10, AttValue', '<a x=1/>'],
  ['14, CharData', 'a ]]> b'],
  ['14, CharData', 'a & b'],
  ['15, Comment', '<!-- -- -->'],
  ['15, Comment', '<!-- --->'],
  ['15, Comment', '<!- -->'],
  ['16, PI', '<?p?x?>'],
  ['16, PI', '<?p??>'],
  ['16, PI', '<? p?>'],
  ['17, PITarget', '<?XmL version="1.0"?>'],
  ['18, CDSect', '<![cdata[]]>'],
  ['22, prolog', '<?xml version="1.0"?>'],
  ['28, doctypedecl', '<!DOCTYPE a>'],
  ['39, element', '<a><b></a></b>'],
  ['39, element', '</a>'],
  ['40, STag', '<a x="1"y="2"/>'],
  ['40, STag', '< a/>'],
  ['3.1, unique attributes', '<a x="1" y="2" x="1"/>'],
  ['41, Attribute', '<a x/>'],
  ['42, ETag', '<a></ a>'],
  ['42, ETag', '<a></a x="1">'],
  ['44, EmptyElemTag', '<a/ >'],
  ['66, CharRef', '&#0;'],
  ['66, CharRef', '<a x="&#xD800;"/>'],
  ['66, CharRef', '&#X41;'],
  ['66, CharRef', '&#x110000;'],
  ['68, EntityRef', '&nbsp;'],
  ['68, EntityRef', '<a x="&lt"/>'],
  ['NS 3, xml', '<a xmlns:xml="urn:x"/>'],
  ['NS 3, xml', '<a xmlns:n="http://www.w3.org/XML/1998/namespace"/>'],
  ['NS 3, xmlns', '<a xmlns:xmlns="http://www.w3.org/2000/xmlns/"/>'],
  ['NS 3, xmlns', '<a xmlns="http://www.w3.org/2000/xmlns/"/>'],
  ['NS 3, xmlns', '<xmlns:a/>'],
  ['NS 4, QName', '<a:/>'],
  ['NS 4, QName', '<n:a:b xmlns:n="urn:x"/>'],
  ['NS 4, NCName', '<a xmlns:1n="urn:x"/>'],
  ['NS 5, prefix declared', '<a n:x="1"/>'],
  ['NS 5, no prefix undeclared', '<a xmlns:n=""/>'],
  ['NS 6.3, unique attributes', '<a xmlns:n="urn:x" xmlns:m="urn:&#120;" n:x="1" m:x="1"/>'],
  ['NS 7, targets', '<?n:p?>'],
] as const;

/** Expat is off: it has the names of the fourth edition. */
const FOURTH_EDITION = new Set<string>(['<\u0133 \u{10000}="1"/>', '<a_\ufeff/>', '<a\u203f/>']);

/** As the bulk of a topology document has it: nobody asks for these elements. */
const BULK = '<ParameterInstanceRef RefId="x" Value="1" />';
const inBulk = (content: string) =>
  knx(
    `<DeviceInstance Id="D"><ParameterInstanceRefs>${BULK}${content}${BULK}</ParameterInstanceRefs></DeviceInstance>`,
  );

/** A document read whole, after it was found to be read alike cut in two anywhere. */
async function readInTwo(text: string, names = ALL): Promise<Told> {
  const bytes = Buffer.from(text);
  const whole = await readHere([bytes], names);
  for (let at = 1; at < bytes.length; at++) {
    const cut = await readHere([bytes.subarray(0, at), bytes.subarray(at)], names);
    expect({ at, cut }).toEqual({ at, cut: whole });
  }
  return whole;
}

describe('what the recommendations allow and forbid', () => {
  test.each(ALLOWED)('allowed by %s: %j', async (_by, content) => {
    expect(await readInTwo(knx(content))).not.toBe('malformed-xml');
    const device = [['DeviceInstance', { Id: 'D' }], ['DeviceInstance']];
    expect(await readInTwo(inBulk(content), new Set(['DeviceInstance']))).toEqual(device);
  });

  test.each(FORBIDDEN)('forbidden by %s: %j', async (_by, content) => {
    expect(await readInTwo(knx(content))).toBe('malformed-xml');
    expect(await readInTwo(inBulk(content), new Set(['DeviceInstance']))).toBe('malformed-xml');
  });

  test('expat says the same of them', async (context) => {
    needsPython(context);
    const contents = [...ALLOWED, ...FORBIDDEN].map(([, content]) => content);
    const byExpat = readByExpat(contents.map((content) => [knx(content), 1 << 20]));
    for (const [index, content] of contents.entries()) {
      const told = toBeTold(byExpat[index]);
      if (FOURTH_EDITION.has(content)) expect({ content, told }).toEqual({ content, told: 'malformed-xml' });
      else expect({ content, told }).toEqual({ content, told: await readHere([Buffer.from(knx(content))]) });
    }
  });

  test('3, S: blanks of the declaration are those of the recommendation', async () => {
    const declared = (gap: string) => [Buffer.from(`<?xml version${gap}= "1.0"?><KNX xmlns="${NAMESPACE}"/>`)];
    for (const gap of ['', ' ', '\t', '\r\n']) expect(await readHere(declared(gap))).toHaveLength(2);
    for (const gap of ['\u000b', '\u000c', '\u00a0']) expect(await readHere(declared(gap))).toBe('malformed-xml');
  });

  test('3.1, unique attributes: however many names came before', async () => {
    // More than the table of names holds, so that it starts anew between two elements of one name.
    const names = Array.from({ length: 5000 }, (_, index) => `<n${index}/>`).join('');
    const twice = `<a x="1" y="2">${names}</a><a x="1" x="2"/>`;
    expect(await readHere([Buffer.from(knx(twice))])).toBe('malformed-xml');
    expect(await readHere([Buffer.from(knx(twice.replace('x="2"', 'y="2"')))])).not.toBe('malformed-xml');
  });
});
