import { describe, expect, test } from 'vitest';
import { refusalOf } from '../support/refusal.js';
import { knx, marked, NAMESPACE, pieces, tell } from '../support/xml.js';

/** The mark `¦` stands where a reader has seen enough to refuse; it is not part of the document. */
const root = (content: string) => `<?xml version="1.0" encoding="utf-8"?>\n<KNX xmlns="${NAMESPACE}">\n${content}`;

const FAULTS: readonly (readonly [name: string, document: string])[] = [
  ['a mismatched end tag', root('<a>\n</b>¦\n</a>\n</KNX>')],
  ['crossed elements', root('<a>\n<b>\n</a>¦</b>\n</KNX>')],
  ['an end tag too many', root('<a/>\n</KNX>\n</KNX>¦\n')],
  ['an element that is not closed', root('<a>\n<b/>\n¦')],
  ['a root that is not closed', root('<a/>\n\n¦')],
  ['an attribute twice', root('<a\nx="1"\nx="2">¦\n</a></KNX>')],
  ['two roots', `${root('<a/></KNX>')}\n<KNX¦ xmlns="${NAMESPACE}"/>\n`],
  ['text after the root', root('</KNX>\ntext¦')],
  ['text before the root', `text¦<KNX xmlns="${NAMESPACE}"/>`],
  ['an undefined entity', root('<a>\n&nbsp;¦</a></KNX>')],
  ['an undefined entity in an attribute', root('<a\nx="&auml;¦"/></KNX>')],
  ['a bare ampersand', root('<a>\nfish & ¦chips</a></KNX>')],
  ['a number that is no character', root('<a>\n&#xFFFFFF;¦</a></KNX>')],
  ['a number that stands for NUL', root('<a>\n&#0;¦</a></KNX>')],
  ['a < in an attribute', root('<a\nx="<¦"/></KNX>')],
  ['an attribute without quotes', root('<a\nx=1¦/></KNX>')],
  ['an attribute without a value', root('<a\nx>¦</a></KNX>')],
  ['attributes that touch', root('<a\nx="1"y¦="2"/></KNX>')],
  ['a name that begins with a digit', root('<a>\n<1¦/></a></KNX>')],
  ['NUL in text', root('<a>\n\u0000¦</a></KNX>')],
  ['NUL in an attribute', root('<a\nx="\u0000¦"/></KNX>')],
  ['a control character', root('<a>\n\u0001¦</a></KNX>')],
  ['a character that is none', root('<a>\n\ufffe¦</a></KNX>')],
  ['the end of a CDATA section in text', root('<a>\n]]>¦</a></KNX>')],
  ['two hyphens in a comment', root('<!-- a\n-- ¦b -->\n</KNX>')],
  ['a declaration that is not the first thing', `\n<?xml version="1.0"?>¦\n<KNX xmlns="${NAMESPACE}"/>`],
  ['a document type', `<?xml version="1.0"?>\n<!DOCTYPE KNX>¦\n<KNX xmlns="${NAMESPACE}"/>`],
  [
    'a document type that declares entities',
    `<!DOCTYPE¦ KNX [\n<!ENTITY a "aaaa">\n<!ENTITY b "&a;&a;">\n]>\n<KNX xmlns="${NAMESPACE}">&b;</KNX>`,
  ],
  ['a document type that names a file', `<!DOCTYPE KNX SYSTEM "file:///etc/passwd">¦<KNX xmlns="${NAMESPACE}"/>`],
  ['nothing', '¦'],
  ['blanks', '  \n \n¦'],
  ['a declaration alone', '<?xml version="1.0"?>\n¦'],
  ['cut in a start tag', root('<a>\n<b x="1"\n¦')],
  ['cut in an attribute', root('<a>\n<b x="1\n2¦')],
  ['cut in an end tag', root('<a>\n</a¦')],
  ['cut in a comment', root('<a/>\n<!-- more\n¦')],
  ['cut in a CDATA section', root('<a>\n<![CDATA[ more\n]]¦')],
  ['cut in an instruction', root('<a/>\n<?print ¦')],
  ['cut in an entity', root('<a>\n&am¦')],
];

describe('what is no well-formed document is refused, with its place', () => {
  test.each(FAULTS)('%s', async (_name, document) => {
    const { text, line } = marked(document);
    expect(await refusalOf(() => tell(text))).toMatchObject({
      code: 'malformed-xml',
      status: 422,
      place: { part: 'part.xml', line },
    });
  });

  test.each(FAULTS)('%s, byte by byte', async (_name, document) => {
    const { text, line } = marked(document);
    expect(await refusalOf(() => tell(pieces(Buffer.from(text), 1)))).toMatchObject({
      code: 'malformed-xml',
      place: { part: 'part.xml', line },
    });
  });
});

describe('the declaration', () => {
  const declared = (declaration: string) => `${declaration}<KNX xmlns="${NAMESPACE}"/>`;

  test.each([
    '',
    '<?xml version="1.0"?>',
    "<?xml version='1.0' encoding='utf-8'?>",
    '<?xml  version = "1.0"\n\tencoding = "UTF-8"\r\n standalone = "yes" ?>\n',
    '<?xml version="1.0" standalone="no"?>',
  ])('is read: %s', async (declaration) => {
    expect((await tell(declared(declaration))).schema).toBe(23);
  });

  test.each([
    '<?xml?>',
    '<?xml encoding="utf-8"?>',
    '<?xml encoding="utf-8" version="1.0"?>',
    '<?xml version="1.0" standalone="yes" encoding="utf-8"?>',
    '<?xml version="1.0" standalone="maybe"?>',
    '<?xml version="1.0"encoding="utf-8"?>',
    '<?xml version=1.0?>',
    '<?xml version="1.0\'?>',
    '<?xml version="1.0" encoding=""?>',
    '<?xml version="1.0" encoding="-8"?>',
    '<?xml version="1.0" more="1"?>',
    '<?xml version="2.0"?>',
    '<?XML version="1.0"?>',
    '<?xml version="1.0">',
    '<!----><?xml version="1.0"?>',
  ])('is refused: %s', async (declaration) => {
    expect(await refusalOf(() => tell(declared(declaration)))).toMatchObject({ code: 'malformed-xml' });
  });
});

test('a document is refused wherever it is cut off', async () => {
  const document = knx('<a x="1">text &amp; more<!-- note --><b/><![CDATA[ <c> ]]></a>');
  expect((await tell(document)).events.map(([name]) => name)).toEqual(['KNX', 'a', 'b']);
  for (let length = 0; length < document.length; length++) {
    const { code } = await refusalOf(() => tell(document.slice(0, length)));
    expect({ length, code }).toEqual({ length, code: 'malformed-xml' });
  }
});

describe('what a document may hold', () => {
  test('elements are told in order, with attributes, parent and line', async () => {
    const document = knx('\n<a x="1" y=\'2\'>\n  <b\n    z="3"\n  />\n</a>\n<c></c>\n');
    expect(await tell(document)).toEqual({
      schema: 23,
      events: [
        ['KNX', { xmlns: NAMESPACE }, '', 2],
        ['a', { x: '1', y: '2' }, 'KNX', 3],
        ['b', { z: '3' }, 'a', 6],
        ['c', {}, 'KNX', 8],
      ],
      closed: ['b', 'a', 'c', 'KNX'],
    });
  });

  test.each([
    ['LF', '\n'],
    ['CR LF', '\r\n'],
  ])('lines that end in %s are counted alike', async (_name, end) => {
    const document = knx('\n<a>\n\n<b/>\ntext</a>\n').replaceAll('\n', end);
    expect((await tell(document)).events.map(([name, , , line]) => [name, line])).toEqual([
      ['KNX', 2],
      ['a', 3],
      ['b', 5],
    ]);
    const faulty = marked(root('<a>\n\n</b>¦\n').replaceAll('\n', end));
    expect((await refusalOf(() => tell(faulty.text))).place.line).toBe(5);
    expect((await refusalOf(() => tell(pieces(Buffer.from(faulty.text), 1)))).place.line).toBe(5);
  });

  test.each([
    ['text', 'one\n\ntwo'],
    ['a start tag', '<a\n\n/>'],
    ['an attribute value', '<a x="1\n\n2"/>'],
    ['the gap around an equals sign', '<a x\n=\n"1"/>'],
    ['an end tag', '<a></a\n\n>'],
    ['a comment', '<!-- one\n\ntwo -->'],
    ['a CDATA section', '<![CDATA[ one\n\ntwo ]]>'],
    ['an instruction', '<?print one\n\ntwo ?>'],
  ])('line ends in %s are counted', async (_name, content) => {
    const bytes = Buffer.from(root(`${content}<z/></KNX>`)); // the root ends line 2, so the content begins on line 3
    for (const size of [bytes.length, 1]) {
      const z = (await tell(pieces(bytes, size))).events.find(([name]) => name === 'z');
      expect(z?.[3]).toBe(5);
    }
  });

  test('comments, instructions and CDATA sections tell of no elements', async () => {
    const document = `<?xml version="1.0"?><!-- <x/> --><?print <x/> ?><KNX xmlns="${NAMESPACE}"><!-- <x> > & -->
      <?print <x> ?><a><![CDATA[<x/> & </a>]]></a></KNX><!-- <x/> --><?print?>\n`;
    expect((await tell(document)).events.map(([name]) => name)).toEqual(['KNX', 'a']);
  });

  test('references to characters are resolved, once', async () => {
    const document = knx('<a x="&lt;&gt;&amp;&quot;&apos;" y="&#65;&#x20AC;&#x1F600;" z="&amp;lt;&amp;#65;"/>');
    expect((await tell(document)).events[1]?.[1]).toEqual({ x: '<>&"\'', y: 'A€😀', z: '&lt;&#65;' });
  });

  test('line ends and tabs in an attribute are blanks', async () => {
    expect((await tell(knx('<a x="1\n2\t3"/>'))).events[1]?.[1]).toEqual({ x: '1 2 3' });
  });

  test('names that mean something to the program mean nothing here', async () => {
    const document = knx('<__proto__ __proto__="1" constructor="2"/><constructor/><toString valueOf="3"/>');
    const { events } = await tell(document);
    expect(events.map(([name]) => name)).toEqual(['KNX', '__proto__', 'constructor', 'toString']);
    expect(Object.keys(events[1]?.[1] ?? {})).toEqual(['__proto__', 'constructor']);
  });
});

test('a repeated attribute is found wherever the table of names starts anew', async () => {
  // The table is emptied at some count of different names: every count around it is tried.
  for (let names = 4070; names < 4110; names++) {
    const others = Array.from({ length: names }, (_, n) => `<n${n}/>`).join('');
    const document = `<KNX xmlns="${NAMESPACE}"><X A="1"/>${others}<X A="1" A="2"/></KNX>`;
    expect(await refusalOf(() => tell(document)), `${names} names`).toMatchObject({ code: 'malformed-xml' });
  }
});
