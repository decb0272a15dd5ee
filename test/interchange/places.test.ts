import { describe, expect, test } from 'vitest';
import { audit } from '../../src/audit.js';
import type { PlaceRecord } from '../../src/interchange/records.js';
import { zip } from '../support/archives.js';
import { knx, topologyOf } from '../support/xml.js';

const DEVICES = ['D1', 'D2', 'D3', 'D4'];

/** A document of four devices on a line, with something beside its topology. */
function documentWith(beside: string): string {
  const devices = DEVICES.map((id) => `<DeviceInstance Id="${id}"/>`).join('');
  return knx(`<Project Id="P-0001"><Installations><Installation><Topology><Area Id="A" Address="1">
    <Line Id="L" Address="1"><Segment Id="S" Number="0" MediumTypeRefId="MT-0">${devices}</Segment></Line></Area></Topology>
    ${beside}</Installation></Installations></Project>`);
}

/** The way to each device, from the outermost place in; its type in brackets. */
async function placesIn(beside: string): Promise<Record<string, string>> {
  const { installations } = await topologyOf(documentWith(beside));
  const way = (place: PlaceRecord | undefined): string =>
    place === undefined ? '' : `${way(place.parent)}/${place.name} (${place.type})`;
  return Object.fromEntries([...(installations[0]?.places ?? [])].map(([id, place]) => [id, way(place)]));
}

const ref = (id: string) => `<DeviceInstanceRef RefId="${id}"/>`;

describe('where a device is', () => {
  test('newer spelling: Locations and Space, nested', async () => {
    expect(
      await placesIn(`<Locations><Space Id="B" Type="Building" Name="House">${ref('D1')}
        <Space Id="F" Type="Floor" Name="Attic"><Space Id="R" Type="Room" Name="Bath">${ref('D2')}</Space>${ref('D3')}</Space>
        </Space><Space Type="Building" Name="Shed">${ref('D4')}</Space></Locations>`),
    ).toEqual({
      D1: '/House (Building)',
      D2: '/House (Building)/Attic (Floor)/Bath (Room)',
      D3: '/House (Building)/Attic (Floor)',
      D4: '/Shed (Building)',
    });
  });

  test('older spelling: Buildings and BuildingPart, nested', async () => {
    expect(
      await placesIn(`<Buildings><BuildingPart Id="B" Type="Building" Name="House">
        <BuildingPart Id="K" Type="DistributionBoard" Name="Board 1">${ref('D1')}${ref('D2')}</BuildingPart></BuildingPart>
        </Buildings>`),
    ).toEqual({
      D1: '/House (Building)/Board 1 (DistributionBoard)',
      D2: '/House (Building)/Board 1 (DistributionBoard)',
    });
  });

  test('names and types may be missing', async () => {
    expect(await placesIn(`<Locations><Space><Space Name="Bath">${ref('D1')}</Space></Space></Locations>`)).toEqual({
      D1: '/ (undefined)/Bath (undefined)',
    });
  });

  test.each([
    ['among the trades', `<Trades><Trade Id="T" Name="Light">${ref('D1')}</Trade></Trades>`],
    [
      'in a function of a place',
      `<Locations><Space Name="Bath"><Function Id="F">${ref('D1')}</Function></Space></Locations>`,
    ],
    ['outside any place', `<Locations>${ref('D1')}</Locations>`],
    ['behind the last place', `<Locations><Space Name="Bath"/>${ref('D1')}</Locations>`],
    ['without a device', '<Locations><Space Name="Bath"><DeviceInstanceRef/></Space></Locations>'],
  ])('a reference %s tells no place', async (_name, beside) => {
    expect(await placesIn(beside)).toEqual({});
  });

  test('the trades do not take a device from its room', async () => {
    const trades = `<Trades><Trade Name="Light">${ref('D1')}</Trade></Trades>`;
    const room = `<Locations><Space Type="Room" Name="Bath">${ref('D1')}</Space></Locations>`;
    const expected = { D1: '/Bath (Room)' };
    expect(await placesIn(trades + room)).toEqual(expected);
    expect(await placesIn(room + trades)).toEqual(expected);
  });

  test('the report shows the way to a device, and none where there is none', async () => {
    const beside = `<Locations><Space Name="House"><Space><Space Name="Bath">${ref('D1')}</Space></Space></Space></Locations>`;
    const report = await audit(await zip({ 'P-0001/0.xml': documentWith(beside) }));
    expect(report.segments[0]?.devices.map(({ id, location }) => [id, location])).toEqual([
      ['D1', 'House / Bath'],
      ['D2', null],
      ['D3', null],
      ['D4', null],
    ]);
  });
});
