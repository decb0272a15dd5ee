import { describe, expect, test } from 'vitest';
import { refusalOf } from '../support/refusal.js';
import { knx, marked, topologyOf, topologyXml } from '../support/xml.js';

/** The mark `¦` stands at the end of the start tag that is refused; it is not part of the document. */
async function expectInvalid(document: string, words: RegExp): Promise<void> {
  const { text, line } = marked(document);
  const refusal = await refusalOf(() => topologyOf(text));
  expect(refusal).toMatchObject({ code: 'invalid-value', status: 422, place: { part: 'P-0001/0.xml', line } });
  expect(refusal.message).toMatch(words);
}

const area = (content: string) => topologyXml(`\n<Area Id="A" Address="1">\n${content}\n</Area>`);
const line = (content: string) => area(`<Line Id="L" Address="1">\n${content}\n</Line>`);

describe('an address that is none', () => {
  const NO_ADDRESSES = ['16', '-1', '1.5', '1e1', '0x1', 'one', '1 1', '1,0', '١', '4294967297', 'NaN', ''];

  test.each(NO_ADDRESSES)('of an area: "%s"', (address) =>
    expectInvalid(topologyXml(`\n<Area Id="A7" Address="${address}">¦</Area>`), /Address of Area "A7".* 0 to 15/),
  );

  test.each(NO_ADDRESSES)('of a line: "%s"', (address) =>
    expectInvalid(area(`<Line\nId="L7"\nAddress="${address}">¦</Line>`), /Address of Line "L7".* 0 to 15/),
  );

  test.each(['256', '-1', '1.5', '1e1', '0x1', 'one', '1 1', '4294967297'])('of a device: "%s"', (address) =>
    expectInvalid(
      line(`<DeviceInstance Id="D6"/>\n<DeviceInstance Id="D7" Address="${address}"/>¦`),
      /Address of DeviceInstance "D7".* 0 to 255/,
    ),
  );

  test.each(['256', '-1', 'one'])('additional: "%s"', (address) =>
    expectInvalid(
      line(
        `<DeviceInstance Id="D"><AdditionalAddresses>\n<Address Address="${address}"/>¦</AdditionalAddresses></DeviceInstance>`,
      ),
      /Address of Address.* 0 to 255/,
    ),
  );

  test.each(['-1', 'one', '1.5', '65536', ''])('of a segment, its number: "%s"', (number) =>
    expectInvalid(line(`<Segment Id="S7" Number="${number}">¦</Segment>`), /Number of Segment "S7"/),
  );
});

describe('an address that is missing', () => {
  test('of an area', () => expectInvalid(topologyXml('\n<Area Id="A7">¦</Area>'), /Address of Area "A7"/));
  test('of a line', () => expectInvalid(area('<Line Id="L7">¦</Line>'), /Address of Line "L7"/));

  test('of a device is no fault: none is assigned', async () => {
    const { installations } = await topologyOf(line('<DeviceInstance Id="D"/>'));
    expect(installations[0]?.areas[0]?.lines[0]?.devices[0]).toMatchObject({ id: 'D', address: undefined });
  });
});

describe('the bounds of an address', () => {
  test.each([
    ['0', '0', '0'],
    ['15', '15', '255'],
  ])('%s.%s.%s', async (ofArea, ofLine, ofDevice) => {
    const { installations } = await topologyOf(
      topologyXml(`<Area Id="A" Address="${ofArea}"><Line Id="L" Address="${ofLine}">
        <DeviceInstance Id="D" Address="${ofDevice}"/></Line></Area>`),
    );
    const [found] = installations[0]?.areas ?? [];
    expect(found?.address).toBe(Number(ofArea));
    expect(found?.lines[0]?.address).toBe(Number(ofLine));
    expect(found?.lines[0]?.devices[0]?.address).toBe(Number(ofDevice));
  });
});

describe('an Id that is missing', () => {
  test.each([
    ['Area', topologyXml('\n<Area Address="1">¦</Area>')],
    ['Line', area('<Line Address="1">¦</Line>')],
    ['Segment', line('<Segment\nNumber="0">¦</Segment>')],
    ['DeviceInstance', line('<DeviceInstance Address="1"/>¦')],
    ['DeviceInstance', topologyXml('<UnassignedDevices>\n<DeviceInstance Id=" "/>¦</UnassignedDevices>')],
  ])('of %s', (element, document) => expectInvalid(document, new RegExp(`${element} has no Id`)));
});

describe('an Id of the topology twice', () => {
  test.each([
    ['Area', '<Area Id="X" Address="1"/>\n<Area Id="X" Address="2"/>¦'],
    ['Line', '<Area Id="A" Address="1"><Line Id="X" Address="1"/>\n<Line Id="X" Address="2"/>¦</Area>'],
    [
      'Segment',
      '<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="X"/>\n<Segment Id="X" Number="1"/>¦</Line></Area>',
    ],
  ])('%s', (element, content) =>
    expectInvalid(topologyXml(content), new RegExp(`the Id "X" of ${element} is used twice`)),
  );
});

describe('a device Id twice', () => {
  const twice = /the Id "D7" of DeviceInstance is used twice/;

  test('on one line', () =>
    expectInvalid(line('<DeviceInstance Id="D7"/>\n<DeviceInstance Id="D8"/>\n<DeviceInstance Id="D7"/>¦'), twice));

  test('on a line and on none', () =>
    expectInvalid(
      topologyXml(`<Area Id="A" Address="1"><Line Id="L" Address="1"><DeviceInstance Id="D7"/></Line></Area>
        <UnassignedDevices>\n<DeviceInstance Id="D7"/>¦</UnassignedDevices>`),
      twice,
    ));

  test('in two installations of one document', () => {
    const one = (mark: string) =>
      `<Installation><Topology><UnassignedDevices>\n<DeviceInstance Id="D7"/>${mark}</UnassignedDevices></Topology></Installation>`;
    return expectInvalid(knx(`<Project><Installations>${one('')}${one('¦')}</Installations></Project>`), twice);
  });
});

test('names of a document are quoted safely: cut, and without control characters', async () => {
  const long = await refusalOf(() => topologyOf(area(`<Line Id="${'x'.repeat(5000)}"/>`)));
  expect(long.message.length).toBeLessThan(500);
  const odd = await refusalOf(() => topologyOf(area('<Line Id="a\u202eb&#x85;c&#9;d" Address="x"/>')));
  expect(odd.message).toContain('a\\u{202e}b\\u{85}c\\u{9}d');
});
