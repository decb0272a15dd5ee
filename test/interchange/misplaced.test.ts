import { describe, expect, test } from 'vitest';
import { Archive, type Part } from '../../src/archive/archive.js';
import { readHardware } from '../../src/interchange/hardware.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { zip } from '../support/archives.js';
import { hardwareXml, topologyOf, topologyXml } from '../support/xml.js';

const DEVICE = '<DeviceInstance Id="D" Address="1"/>';
const line = (content: string) => `<Line Id="L" Address="1">${content}</Line>`;
const area = (content: string) => `<Area Id="A" Address="1">${content}</Area>`;

/** No form of the interchange has any of these. What the audit cannot place, it says it cannot place. */
describe('a device is unassigned, not lost,', () => {
  test.each([
    ['on a line in no area', line(DEVICE)],
    ['on a line in something unknown', area(`<Branch>${line(DEVICE)}</Branch>`)],
    ['on a segment of a line in no area', line(`<Segment Id="S">${DEVICE}</Segment>`)],
    ['on a segment in no line', area(`<Segment Id="S">${DEVICE}</Segment>`)],
    ['behind a segment in its segment', area(line(`<Segment Id="S"><Segment Id="T"/>${DEVICE}</Segment>`))],
    ['behind a line in its line', area(line(`${line('')}${DEVICE}`))],
  ])('%s', async (_where, content) => {
    const { installations } = await topologyOf(topologyXml(content));
    expect(installations[0]?.unassigned).toMatchObject([{ id: 'D' }]);
  });
});

describe('a product is found', () => {
  const hardware = (id: string, content: string) => `<Hardware Id="${id}" BusCurrent="7">${content}</Hardware>`;
  const inner = hardware('I', '<Products><Product Id="Q"/></Products>');

  test.each([
    ['behind hardware in its hardware', hardware('H', `${inner}<Products><Product Id="P"/></Products>`)],
    ['behind hardware in its list', hardware('H', `<Products>${inner}<Product Id="P"/></Products>`)],
  ])('%s', async (_where, content) => {
    const archive = Archive.open(await zip({ 'Hardware.xml': hardwareXml(content) }), DEFAULT_LIMITS);
    const [part] = archive.parts;
    const products = await readHardware(archive, part as Part, DEFAULT_LIMITS);
    expect(products).toMatchObject([{ id: 'P', hardware: { id: 'H', busCurrent: '7' } }]);
  });
});
