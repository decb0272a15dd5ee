import { describe, expect, test } from 'vitest';
import { audit } from '../../src/audit.js';
import { zip } from '../support/archives.js';
import { refusalOf } from '../support/refusal.js';
import { knx, marked, NAMESPACE, namespaceOf, tell, topologyXml } from '../support/xml.js';

const FOREIGN = 'urn:example:other';

const names = async (document: string) => (await tell(document)).events.map(([name, , parent]) => `${parent}>${name}`);

describe('the prefix is free', () => {
  const expected = ['>KNX', 'KNX>Project', 'Project>Installations', 'KNX>Other'];

  test.each([
    ['none', `<KNX xmlns="${NAMESPACE}"><Project><Installations/></Project><Other/></KNX>`],
    ['one', `<k:KNX xmlns:k="${NAMESPACE}"><k:Project><k:Installations/></k:Project><k:Other/></k:KNX>`],
    [
      'two',
      `<a:KNX xmlns:a="${NAMESPACE}" xmlns:b="${NAMESPACE}"><b:Project><a:Installations/></b:Project><b:Other/></a:KNX>`,
    ],
    [
      'one that changes on the way',
      `<k:KNX xmlns:k="${NAMESPACE}"><Project xmlns="${NAMESPACE}"><Installations/></Project><k:Other/></k:KNX>`,
    ],
    [
      'one that means something else for a while',
      `<k:KNX xmlns:k="${NAMESPACE}"><k:Project><k:X xmlns:k="${FOREIGN}"><k:Y/></k:X><k:Installations/></k:Project><k:Other/></k:KNX>`,
    ],
  ])('%s', async (_name, document) => {
    expect(await names(document)).toEqual(expected);
  });

  test('a whole project under a prefix gives the same report', async () => {
    const plain = topologyXml(
      `<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="S" Number="0" MediumTypeRefId="MT-0">
        <DeviceInstance Id="D" Address="1"/></Segment></Line></Area>`,
    );
    const prefixed = plain.replace('xmlns=', 'xmlns:knx=').replace(/<(\/?)(?=[A-Z])/g, '<$1knx:');
    expect(prefixed).toContain('<knx:DeviceInstance');
    const [one, other] = await Promise.all(
      [plain, prefixed].map(async (text) => audit(await zip({ 'P-0001/0.xml': text }))),
    );
    expect(one?.summary.devicesPlaced).toBe(1);
    expect({ ...other, archive: undefined }).toEqual({ ...one, archive: undefined });
  });
});

describe('foreign elements', () => {
  test.each([
    ['by prefix', `<x:Line xmlns:x="${FOREIGN}"/>`],
    ['by default', `<Line xmlns="${FOREIGN}"/>`],
    ['in no namespace', '<Line xmlns=""/>'],
    ['with all in them', `<x:Area xmlns:x="${FOREIGN}"><Line><Segment/></Line>text</x:Area>`],
    ['nested', `<x:A xmlns:x="${FOREIGN}"><x:B><y:C xmlns:y="urn:example:third"/></x:B><Line/></x:A>`],
    ['of another schema', `<Line xmlns="${namespaceOf(20)}"><Segment/></Line>`],
  ])('are left out: %s', async (_name, foreign) => {
    expect(await names(knx(`<Before/>${foreign}<After><Last/></After>`))).toEqual([
      '>KNX',
      'KNX>Before',
      'KNX>After',
      'After>Last',
    ]);
  });

  test('an attribute of a foreign namespace is not the one of the same name', async () => {
    const [, a] = (await tell(knx(`<a xmlns:x="${FOREIGN}" x:Id="1" Id="2"/>`))).events;
    expect(a?.[1]).toEqual({ 'xmlns:x': FOREIGN, 'x:Id': '1', Id: '2' });
  });

  test('what is in them has to be well-formed all the same', async () => {
    const { text, line } = marked(knx(`<x:A xmlns:x="${FOREIGN}">\n<x:B></x:C>¦</x:A>`));
    expect(await refusalOf(() => tell(text))).toMatchObject({ code: 'malformed-xml', place: { line } });
  });
});

describe('prefixes that nobody declared', () => {
  test.each([
    ['of an element', knx('\n<x:a>¦</x:a>')],
    ['of an attribute', knx('\n<a\nx:y="1"/>¦')],
    ['out of reach', knx(`\n<a xmlns:x="${FOREIGN}"/>\n<x:b/>¦`)],
    ['of the root', `\n\n<k:KNX>¦</k:KNX>`],
  ])('%s', async (_name, document) => {
    const { text, line } = marked(document);
    expect(await refusalOf(() => tell(text))).toMatchObject({
      code: 'malformed-xml',
      place: { part: 'part.xml', line },
    });
  });

  test('xml is declared by itself', async () => {
    expect(await names(knx('<a xml:lang="en"/>'))).toEqual(['>KNX', 'KNX>a']);
  });
});

describe('declarations that the namespace recommendation forbids', () => {
  test.each([
    ['a prefix that is undeclared again', '<a xmlns:x=""/>'],
    ['one attribute under two prefixes', `<a xmlns:x="${FOREIGN}" xmlns:y="${FOREIGN}" x:b="1" y:b="2"/>`],
    ['the name of an instruction with a colon', '<?x:a?>'],
    ['a name with two colons', `<x:a:b xmlns:x="${FOREIGN}"/>`],
  ])('%s', async (_name, content) => {
    expect(await refusalOf(() => tell(knx(content)))).toMatchObject({ code: 'malformed-xml' });
  });
});

describe('the namespace of the root', () => {
  test.each([10, 11, 12, 13, 14, 20, 21, 22, 23])('%i is a schema that is known', async (schema) => {
    expect((await tell(knx('', schema))).schema).toBe(schema);
  });

  test.each([
    ['none', '<KNX/>'],
    ['none, and a language', '<KNX xml:lang="en"/>'],
    ['another', `<KNX xmlns="${FOREIGN}"/>`],
    ['no number', '<KNX xmlns="http://knx.org/xml/project/"/>'],
    ['a word for a number', '<KNX xmlns="http://knx.org/xml/project/new"/>'],
    ['a negative number', '<KNX xmlns="http://knx.org/xml/project/-1"/>'],
    ['a fraction', '<KNX xmlns="http://knx.org/xml/project/23.1"/>'],
    ['a slash behind it', '<KNX xmlns="http://knx.org/xml/project/23/"/>'],
    ['another scheme', '<KNX xmlns="https://knx.org/xml/project/23"/>'],
    ['another host', '<KNX xmlns="http://knx.org.example/xml/project/23"/>'],
    ['another element', `<Project xmlns="${NAMESPACE}"/>`],
    ['the element in other letters', `<knx xmlns="${NAMESPACE}"/>`],
    ['a page', '<html xmlns="http://www.w3.org/1999/xhtml"><body/></html>'],
  ])('is refused: %s', async (_name, document) => {
    expect(await refusalOf(() => tell(document))).toMatchObject({
      code: 'wrong-namespace',
      status: 422,
      place: { part: 'part.xml' },
    });
  });

  const area = (content: string) => `<Area Id="A" Address="1"><Line Id="L" Address="1">${content}</Line></Area>`;
  const device = '<DeviceInstance Id="D" Address="1"/>';

  test.each([
    [99, area(`<Segment Id="S" Number="0" MediumTypeRefId="MT-0">${device}</Segment>`), 'S'],
    [24, area(`<Segment Id="S" Number="0" MediumTypeRefId="MT-0">${device}</Segment>`), 'S'],
    [15, area(device), 'L'],
    [9, area(device), 'L'],
  ])('schema %i is read as the nearest known one, and said so', async (schema, content, segment) => {
    const report = await audit(await zip({ 'P-0001/0.xml': topologyXml(content, schema) }));
    expect(report.projects[0]).toMatchObject({ schema, schemaKnown: false });
    expect(report.segments.map(({ id, devices }) => [id, devices.length])).toEqual([[segment, 1]]);
    expect(report.findings.filter(({ rule }) => rule === 'schema-not-known')).toHaveLength(1);
  });

  test('a known schema is not remarked on', async () => {
    const content = area(`<Segment Id="S" Number="0">${device}</Segment>`);
    const report = await audit(await zip({ 'P-0001/0.xml': topologyXml(content, 23) }));
    expect(report.projects[0]).toMatchObject({ schema: 23, schemaKnown: true });
    expect(report.findings.map(({ rule }) => rule)).not.toContain('schema-not-known');
  });
});
