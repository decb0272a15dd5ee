import { expect, test } from 'vitest';
import { DEFAULT_LIMITS, type LimitName } from '../../src/limits.js';
import { refusalOf } from '../support/refusal.js';
import { knx, marked, tell, topologyOf, topologyXml } from '../support/xml.js';

async function expectOver(limit: LimitName, value: number, document: string): Promise<void> {
  const { text, line } = marked(document);
  const refusal = await refusalOf(() => tell(text, { [limit]: value }));
  expect(refusal).toMatchObject({ code: 'limit-exceeded', status: 413, place: { part: 'part.xml', line } });
  expect(refusal.message).toMatch(new RegExp(`\\b${limit}\\b.*\\b${value}\\b`));
}

const opened = async (document: string, limits: Parameters<typeof tell>[1]) =>
  (await tell(document, limits)).events.length;

test('xmlDepth bounds the nesting of elements, the root being the first', async () => {
  const nested = (depth: number) => knx('<a>'.repeat(depth - 1) + '</a>'.repeat(depth - 1));
  expect(await opened(nested(3), { xmlDepth: 3 })).toBe(3);
  await expectOver('xmlDepth', 3, knx('\n<a><b>\n<c>¦</c></b></a>'));
  expect(await opened(nested(64), {})).toBe(64);
  expect((await refusalOf(() => tell(nested(65)))).code).toBe('limit-exceeded');
  expect((await refusalOf(() => tell(nested(100_000)))).code).toBe('limit-exceeded');
});

test('xmlDepth is not lifted by foreign elements, and forgets what is closed', async () => {
  await expectOver('xmlDepth', 3, knx('<x:a xmlns:x="urn:x"><x:b>\n<x:c>¦</x:c></x:b></x:a>'));
  expect(await opened(knx('<a><b/></a>'.repeat(100)), { xmlDepth: 3 })).toBe(201);
});

test('xmlAttributes bounds the attributes of one element, declarations included', async () => {
  const attributes = (count: number) => Array.from({ length: count }, (_, index) => `a${index}="1"`).join(' ');
  expect(await opened(knx('<a b="1" c="2"/>'), { xmlAttributes: 2 })).toBe(2);
  await expectOver('xmlAttributes', 2, knx('<a b="1" c="2"/>\n<a b="1" c="2" d="3"/>¦'));
  await expectOver('xmlAttributes', 1, knx('\n<a xmlns:x="urn:x" b="1"/>¦'));
  expect(await opened(knx(`<a ${attributes(256)}/>`), {})).toBe(2);
  expect((await refusalOf(() => tell(knx(`<a ${attributes(257)}/>`)))).code).toBe('limit-exceeded');
});

test('xmlValueLength bounds an attribute value, in characters', async () => {
  const LONG = 100; // long enough for the namespace of the root
  expect(await opened(knx(`<a b="${'ä'.repeat(LONG)}"/>`), { xmlValueLength: LONG })).toBe(2);
  await expectOver('xmlValueLength', LONG, knx(`\n<a b="${'ä'.repeat(LONG + 1)}"/>¦`));
  await expectOver('xmlValueLength', LONG, knx(`\n<a xmlns:x="${'x'.repeat(LONG + 1)}"/>¦`));
  const value = (length: number) => knx(`<a b="${'x'.repeat(length)}"/>`);
  expect(await opened(value(64 * 1024), { readValueLength: 64 * 1024 })).toBe(2);
  expect((await refusalOf(() => tell(value(64 * 1024 + 1)))).message).toContain('xmlValueLength');
});

test('readValueLength bounds an attribute value that is read, and none that is passed over', async () => {
  const LONG = 100;
  expect(await opened(knx(`<a b="${'&amp;'.repeat(LONG)}"/>`), { readValueLength: LONG })).toBe(2);
  await expectOver('readValueLength', LONG, knx(`\n<a b="${'ä'.repeat(LONG + 1)}"/>¦`));
  const long = 'x'.repeat(5000);
  expect((await topologyOf(topologyXml(`<Area Id="A" Address="1" Comment="${long}"/>`))).installations).toHaveLength(1);
  const refusal = await refusalOf(() => topologyOf(topologyXml(`<Area Id="A" Address="1" Name="${long}"/>`)));
  expect(refusal.message).toContain('the value of "Name" has 5000 characters; the limit readValueLength is 4096');
});

test('xmlNameLength bounds a name, in bytes', async () => {
  expect(await opened(knx(`<${'ä'.repeat(16)}/>`), { xmlNameLength: 32 })).toBe(2);
  for (const document of [`\n<${'ä'.repeat(17)}¦/>`, `\n<a ${'x'.repeat(33)}¦="1"/>`]) {
    await expectOver('xmlNameLength', 32, knx(document));
  }
});

test('elementsRead bounds the elements that are read, and none that are passed over', async () => {
  expect(await opened(knx('<a/><b/>'), { elementsRead: 3 })).toBe(3);
  await expectOver('elementsRead', 3, knx('<a/>\n<b/>\n<c/>¦'));
});

test('text between elements has no limit of its own: it is not kept', async () => {
  expect(await opened(knx(`<a>${'text '.repeat(DEFAULT_LIMITS.xmlValueLength)}</a>`), {})).toBe(2);
});
