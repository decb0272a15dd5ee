import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readXml } from '../../src/interchange/xml/reader.js';
import { DEFAULT_LIMITS, type Limits } from '../../src/limits.js';
import { knx, NAMESPACE, pieces } from '../support/xml.js';

/**
 * What nobody wants is passed over by a program of its own (`src/interchange/xml/assembly`), which never sees an element
 * that is wanted. So a document of which everything is wanted is read without it, and has to be read alike.
 */
const EVERYTHING = { has: () => true };

interface Outcome {
  readonly told: readonly unknown[];
  readonly fault?: { code: string; message: string; line: number | undefined };
}

async function outcomeOf(
  bytes: Uint8Array,
  isWanted: (name: string) => boolean,
  size = bytes.length,
  limits: Partial<Limits> = {},
): Promise<Outcome> {
  const told: unknown[] = [];
  const handler = {
    wanted: { get: (name: string) => (isWanted(name) ? EVERYTHING : undefined) },
    open: (...event: unknown[]) => void told.push(structuredClone(event)),
    close: (name: string) => void told.push(name),
  };
  try {
    await readXml(pieces(bytes, size), 'part.xml', { ...DEFAULT_LIMITS, ...limits }, handler);
    return { told };
  } catch (error) {
    const { code, message, place } = error as { code: string; message: string; place: { line?: number } };
    return { told, fault: { code, message, line: place.line } };
  }
}

/** What would be told if only some elements were wanted. */
function only(isWanted: (name: string) => boolean, { told, ...rest }: Outcome): Outcome {
  return {
    told: told.filter((event) => isWanted(typeof event === 'string' ? event : (event as [string])[0])),
    ...rest,
  };
}

const isDevice = (name: string) => name === 'DeviceInstance';

/** Plain markup, as most of a topology document is; enough of it that every name is known. */
const PLAIN = `
  <DeviceInstance Id="1">
    <ParameterInstanceRefs>
      <ParameterInstanceRef RefId="P-1_R-1" Value="0" />
      <ParameterInstanceRef RefId="P-2_R-2" Value="a much longer value than the others, with 'quotes' and ä" />
      <ParameterInstanceRef RefId="P-3_R-3" Value=""/>\r
      <ComObjectInstanceRef RefId="O-1_R-1"><Connectors></Connectors>text</ComObjectInstanceRef>
      <ParameterInstanceRef RefId="P-4_R-4" Value="1" ANameOfMoreThanSixteenBytes="1" a.b-c_9="2" />
    </ParameterInstanceRefs>
  </DeviceInstance>
`;

test('plain markup is told of as without the shortcut', async () => {
  const bytes = Buffer.from(knx(PLAIN.repeat(3)));
  const whole = await outcomeOf(bytes, () => true);
  expect(whole.fault).toBeUndefined();
  expect(whole.told).toHaveLength(2 * (1 + 3 * 8));
  for (const size of [1, 2, 3, 7, 16, 31, 64, 1000, bytes.length]) {
    expect(await outcomeOf(bytes, isDevice, size), `pieces of ${size}`).toEqual(only(isDevice, whole));
  }
});

/** What stands in the place of `¦`, in a document that is sound without it. */
const FAULTS: readonly (readonly [name: string, fault: string])[] = [
  ['an end tag of another element', '</ComObjectInstanceRef>'],
  ['an end tag that is too long', '</ParameterInstanceRefsX>'],
  ['an end tag that is too short', '</ParameterInstanceRef>'],
  ['an end tag with an attribute', '</ParameterInstanceRefs a="1">'],
  ['an end tag without a name', '<ParameterInstanceRef></>'],
  ['a start tag that is not closed', '<ParameterInstanceRef RefId="1" Value="1">'],
  ['an attribute twice', '<ParameterInstanceRef RefId="1" Value="1" RefId="2" />'],
  ['a long attribute twice', '<a ANameOfMoreThanSixteenBytes="1" b="1" ANameOfMoreThanSixteenBytes="1"/>'],
  ['attributes that touch', '<ParameterInstanceRef RefId="1"Value="1" />'],
  ['an attribute without quotes', '<ParameterInstanceRef RefId=1 Value="1" />'],
  ['an attribute without a value', '<ParameterInstanceRef RefId Value="1" />'],
  ['an attribute that is no name', '<ParameterInstanceRef 1="1" />'],
  ['an attribute that begins with a dash', '<ParameterInstanceRef -a="1" />'],
  ['a name with a character that no name has', '<ParameterInstanceRef Ref×Id="1" />'],
  ['< in a value', '<ParameterInstanceRef RefId="<" />'],
  ['a bare ampersand in a value', '<ParameterInstanceRef RefId="a & b" />'],
  ['an undefined entity in a value', '<ParameterInstanceRef RefId="&nbsp;" />'],
  ['NUL in a value', '<ParameterInstanceRef RefId="\u0000" />'],
  ['a control character in a value', '<ParameterInstanceRef RefId="1234567890123456789\u001f" />'],
  ['a value that runs on', '<ParameterInstanceRef RefId="1 />'],
  ['U+FFFF in a value', '<ParameterInstanceRef RefId="\uffff" />'],
  ['a value in odd quotes', '<ParameterInstanceRef RefId="1\' />'],
  ['a slash in a tag', '<ParameterInstanceRef / RefId="1" />'],
  ['a tag that does not end', '<ParameterInstanceRef RefId="1" /'],
  ['a tag in a tag', '<ParameterInstanceRef <ParameterInstanceRef/> />'],
  ['a prefix that is not declared', '<ParameterInstanceRef k:RefId="1" />'],
  ['an element of a prefix that is not declared', '<k:ParameterInstanceRef />'],
  ['a forbidden declaration', '<ParameterInstanceRef xmlns="http://www.w3.org/2000/xmlns/" />'],
  ['a blank before a name', '< ParameterInstanceRef />'],
  ['a bare ampersand', 'fish & chips'],
  ['a number that is no character', '&#xFFFFFF;'],
  ['a < alone', 'a < b'],
  ['the end of a CDATA section', 'a ]]> b'],
  ['NUL', 'a\u0000b'],
  ['a control character', 'a\u000bb'],
  ['U+FFFE', 'a\ufffeb'],
  ['two hyphens in a comment', '<!-- a -- b -->'],
  ['a comment that runs on', '<!-- a'],
  ['a document type', '<!DOCTYPE a [<!ENTITY b "c">]>'],
  ['an XML declaration', '<?xml version="1.0"?>'],
  ['an instruction that runs on', '<?a b'],
];

const INSIDE = knx(PLAIN + PLAIN.replace('    </ParameterInstanceRefs>', '\n¦</ParameterInstanceRefs>') + PLAIN);
const OUTSIDE = knx(PLAIN + PLAIN.replace('    <ParameterInstanceRefs>', '\n¦<ParameterInstanceRefs>') + PLAIN);

describe('a fault is refused alike in what is passed over and elsewhere', () => {
  test.each(FAULTS)('%s', async (_name, fault) => {
    const refusals = [];
    for (const around of [INSIDE, OUTSIDE]) {
      const bytes = Buffer.from(around.replace('¦', () => fault));
      const whole = await outcomeOf(bytes, () => true);
      expect(whole.fault?.code).toBe('malformed-xml');
      expect(await outcomeOf(bytes, isDevice)).toEqual(only(isDevice, whole));
      expect(await outcomeOf(bytes, isDevice, 1)).toEqual(only(isDevice, whole));
      refusals.push(whole.fault?.code);
    }
    expect(new Set(refusals).size).toBe(1);
  });

  test.each([
    ['a byte that no character begins with', [0xff]],
    ['half a character', [0xc3]],
    ['a surrogate', [0xed, 0xa0, 0x80]],
    ['an overlong form', [0xc0, 0xaf]],
  ])('%s, in a value and in a text', async (_name, fault) => {
    for (const [before, after] of [INSIDE, INSIDE.replace('¦', '<a b="¦"/>')].map((around) => around.split('¦'))) {
      const bytes = Buffer.concat([Buffer.from(before ?? ''), Buffer.from(fault), Buffer.from(after ?? '')]);
      for (const size of [1, 16, bytes.length]) {
        const { fault: refusal } = await outcomeOf(bytes, isDevice, size);
        expect(refusal?.code).toBe('unreadable-encoding');
      }
    }
  });
});

describe('a limit holds in what is passed over as elsewhere', () => {
  const none = () => false;
  const repeated = (text: string) => Buffer.from(knx(`<b><a x="1"/><a x="1"/>${text}</b>`));
  const nested = (depth: number) => `${'<a>'.repeat(depth)}${'</a>'.repeat(depth)}`;
  const many = (count: number) => `<a ${Array.from({ length: count }, (_, index) => `x${index}="1"`).join(' ')}/>`;

  test.each([
    ['xmlDepth', { xmlDepth: 10 }, nested(8), nested(9)],
    ['xmlAttributes', { xmlAttributes: 7 }, many(7), many(8)],
    ['xmlAttributes', {}, many(256), many(257)],
    ['xmlValueLength', { xmlValueLength: 40 }, `<a x="${'v'.repeat(40)}"/>`, `<a x="${'v'.repeat(41)}"/>`],
    ['xmlValueLength', { xmlValueLength: 40 }, `<a x="${'ä'.repeat(40)}"/>`, `<a x="${'ä'.repeat(41)}"/>`],
    ['xmlTagBytes', { xmlTagBytes: 100 }, `<a x="${'v'.repeat(91)}"/>`, `<a x="${'v'.repeat(92)}"/>`],
  ] as const)('%s', async (limit, limits, below, above) => {
    for (const isWanted of [none, () => true]) {
      for (const size of [1, 100_000]) {
        expect((await outcomeOf(repeated(below), isWanted, size, limits)).fault).toBeUndefined();
        expect((await outcomeOf(repeated(above), isWanted, size, limits)).fault).toMatchObject({
          code: 'limit-exceeded',
          message: expect.stringContaining(limit),
        });
      }
    }
  });
});

const pick = (...choices: readonly string[]) => fc.constantFrom(...choices);
const many = (part: fc.Arbitrary<string>, maxLength: number) =>
  fc.array(part, { maxLength }).map((all) => all.join(''));

const NAMES = [
  'a',
  'b',
  'a.b-c_9',
  'AnElementOfSixteen',
  'x'.repeat(15),
  'x'.repeat(16),
  'x'.repeat(31),
  'x'.repeat(32),
];
const name = pick(...NAMES, 'DeviceInstance', 'é', 'k:a');
const value = many(pick('', '1', ' ', 'ä', "'", '>', ']]>', '\t', '\n', '&amp;', '\uf000', 'v'.repeat(13)), 3);
const attributes = fc
  .uniqueArray(fc.tuple(pick(...NAMES, 'k:a', 'é'), value), { maxLength: 4, selector: ([attribute]) => attribute })
  .map((all) => all.map(([attribute, text]) => ` ${attribute}="${text}"`).join(''));
const text = many(
  pick('', ' ', '\n', '\r\n', '\t', 'text', ' '.repeat(17), 'ä', '&lt;', ']', ']]', '\uf000', '<!-- -->'),
  3,
);

const { content } = fc.letrec<{ content: string; element: string }>((tie) => ({
  content: fc.array(fc.oneof(text, tie('element'), tie('element')), { maxLength: 6 }).map((nodes) => nodes.join('')),
  element: fc
    .tuple(name, attributes, pick('', ' '), fc.option(tie('content'), { nil: undefined }))
    .map(
      ([tag, has, gap, inside]) => `<${tag}${has}${gap}${inside === undefined ? '/>' : `>${inside}</${tag}${gap}>`}`,
    ),
}));

/** Most of the time sound; else a few bytes of it are others. */
const documents = fc
  .tuple(
    content,
    fc.array(fc.tuple(fc.nat(), fc.nat(3), pick('', '<', '>', '"', '/', '=', '&', ' ', 'a', '\0', ']]>', '</a>')), {
      maxLength: 2,
    }),
  )
  .map(([sound, changes]) => {
    const bytes = [...`<a xmlns:k="urn:k">${sound}${sound}${sound}</a>`];
    for (const [at, drops, adds] of changes) bytes.splice(3 + (at % bytes.length), drops, ...adds);
    return Buffer.from(`<KNX xmlns="${NAMESPACE}">${bytes.join('')}</KNX>`);
  });

test('an attribute without a name is refused wherever it stands', async () => {
  for (const tag of ['<b ="">', '<b a="" ="">', '<AnElementOfSixteen c="" ="">']) {
    // What was read before has taught its elements, and leaves its names behind.
    const taught = '<b a="" c=""/><AnElementOfSixteen a=""/>'.repeat(50);
    const bytes = Buffer.from(`<KNX xmlns="${NAMESPACE}"><a>${taught}${tag.replace('>', '/>')}${taught}</a></KNX>`);
    expect((await outcomeOf(bytes, () => false)).fault?.code, tag).toBe('malformed-xml');
  }
});

test('random documents, sound and broken, are read as without the shortcut', async () => {
  let refused = 0;
  const property = fc.asyncProperty(
    documents,
    pick('DeviceInstance', 'a', 'none'),
    fc.nat(99),
    async (bytes, one, size) => {
      const isWanted = (local: string) => local === one;
      const whole = await outcomeOf(bytes, () => true);
      if (whole.fault !== undefined) refused++;
      expect(await outcomeOf(bytes, isWanted, size + 1)).toEqual(only(isWanted, whole));
    },
  );
  await fc.assert(property, { numRuns: 1500 });
  expect(refused).toBeGreaterThan(200);
  expect(refused).toBeLessThan(1300);
});
