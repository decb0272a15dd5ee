import { expect, test } from 'vitest';
import type { DeviceRecord } from '../../src/interchange/records.js';
import { knx, topologyOf, topologyXml } from '../support/xml.js';

const device = (id: string, sourceLine: number, more: Partial<DeviceRecord> = {}): DeviceRecord => ({
  id,
  address: undefined,
  name: undefined,
  productRef: undefined,
  isLoaded: undefined,
  additionalAddresses: [],
  sourceLine,
  ...more,
});

test('the older form: devices and medium stand on the line', async () => {
  const document = await topologyOf(
    topologyXml(
      `<Area Id="A1" Address="1" Name="East">
        <Line Id="L0" Address="0" Name="Main" MediumTypeRefId="MT-0"/>
        <Line Id="L1" Address="1" MediumTypeRefId="MT-0" DomainAddress="7">
          <DeviceInstance Id="D1" Address="0" Name="Coupler" ProductRefId="P1"/>
          <DeviceInstance Id="D2" ProductRefId="P2">
            <ParameterInstanceRefs><ParameterInstanceRef RefId="x" Value="1"/></ParameterInstanceRefs>
          </DeviceInstance>
        </Line>
      </Area>`,
      14,
    ),
  );
  const none = { name: undefined, medium: undefined };
  expect(document).toEqual({
    schema: 14,
    installations: [
      {
        part: 'P-0001/0.xml',
        name: 'House',
        areas: [
          {
            id: 'A1',
            address: 1,
            name: 'East',
            lines: [
              { id: 'L0', address: 0, ...none, name: 'Main', medium: 'MT-0', segments: [], devices: [], sourceLine: 3 },
              {
                id: 'L1',
                address: 1,
                ...none,
                medium: 'MT-0',
                segments: [],
                devices: [
                  device('D1', 5, { address: 0, name: 'Coupler', productRef: 'P1' }),
                  device('D2', 6, { productRef: 'P2' }),
                ],
                sourceLine: 4,
              },
            ],
          },
        ],
        unassigned: [],
        places: new Map(),
      },
    ],
  });
});

test('the newer form: devices and medium stand on segments', async () => {
  const { installations, schema } = await topologyOf(
    topologyXml(`<Area Id="A1" Address="15"><Line Id="L1" Address="15" Name="Line">
      <Segment Id="S0" Number="0" Name="West" MediumTypeRefId="MT-0"><DeviceInstance Id="D1" Address="255"/></Segment>
      <Segment Id="S1" Number="3" MediumTypeRefId="MT-2"/><Segment Id="S2"/>
    </Line></Area>`),
  );
  expect(schema).toBe(23);
  expect(installations[0]?.areas[0]).toMatchObject({ address: 15 });
  expect(installations[0]?.areas[0]?.lines).toEqual([
    {
      id: 'L1',
      address: 15,
      name: 'Line',
      medium: undefined,
      devices: [],
      segments: [
        {
          id: 'S0',
          number: 0,
          name: 'West',
          medium: 'MT-0',
          devices: [device('D1', 3, { address: 255 })],
          sourceLine: 3,
        },
        { id: 'S1', number: 3, name: undefined, medium: 'MT-2', devices: [], sourceLine: 4 },
        { id: 'S2', number: 0, name: undefined, medium: undefined, devices: [], sourceLine: 4 },
      ],
      sourceLine: 2,
    },
  ]);
});

test('a line may have both: segments, and devices of its own', async () => {
  const { installations } = await topologyOf(
    topologyXml(`<Area Id="A" Address="1"><Line Id="L" Address="1"><DeviceInstance Id="D1"/>
      <Segment Id="S" Number="1"><DeviceInstance Id="D2"/></Segment><DeviceInstance Id="D3"/></Line></Area>`),
  );
  const [line] = installations[0]?.areas[0]?.lines ?? [];
  expect(line?.devices.map(({ id }) => id)).toEqual(['D1', 'D3']);
  expect(line?.segments[0]?.devices.map(({ id }) => id)).toEqual(['D2']);
});

test('additional addresses belong to their device', async () => {
  const { installations } = await topologyOf(
    topologyXml(`<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="S">
      <DeviceInstance Id="D1" Address="1"><AdditionalAddresses><Address Address="240"/><Address Address="0"/>
        <Address Address=""/><Address/></AdditionalAddresses></DeviceInstance>
      <DeviceInstance Id="D2" Address="2"><Address Address="9"/></DeviceInstance></Segment></Line></Area>`),
  );
  const [segment] = installations[0]?.areas[0]?.lines[0]?.segments ?? [];
  expect(segment?.devices.map(({ additionalAddresses }) => additionalAddresses)).toEqual([[240, 0], []]);
});

test('devices on no line are kept apart', async () => {
  const { installations } = await topologyOf(
    topologyXml(`<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="S"/></Line></Area>
      <UnassignedDevices><DeviceInstance Id="D1" Name="Spare" ProductRefId="P"/><DeviceInstance Id="D2"/></UnassignedDevices>`),
  );
  expect(installations[0]?.unassigned.map(({ id, name, productRef }) => [id, name, productRef])).toEqual([
    ['D1', 'Spare', 'P'],
    ['D2', undefined, undefined],
  ]);
  expect(installations[0]?.areas[0]?.lines[0]?.segments[0]?.devices).toEqual([]);
});

test('several installations of one document are told apart', async () => {
  const one = (name: string) =>
    `<Installation Name="${name}"><Topology><Area Id="${name}A" Address="1"><Line Id="${name}L" Address="1">
      <DeviceInstance Id="${name}D"/></Line></Area></Topology></Installation>`;
  const { installations } = await topologyOf(
    knx(`<Project Id="P-0001"><Installations>${one('a')}${one('b')}</Installations></Project>`, 14),
  );
  expect(
    installations.map(({ name, areas }) => [name, areas[0]?.id, areas[0]?.lines[0]?.devices.map(({ id }) => id)]),
  ).toEqual([
    ['a', 'aA', ['aD']],
    ['b', 'bA', ['bD']],
  ]);
});

test('texts lose the blanks around them, and an empty one is none', async () => {
  const { installations } = await topologyOf(
    topologyXml(`<Area Id=" A " Address=" 1 " Name="  "><Line Id="L" Address="+1" Name=" Line 1 " MediumTypeRefId="">
      <DeviceInstance Id="D" Address="  " Name="" ProductRefId=" P "/></Line></Area>`),
  );
  const [area] = installations[0]?.areas ?? [];
  expect(area).toMatchObject({ id: 'A', address: 1, name: undefined });
  expect(area?.lines[0]).toMatchObject({ address: 1, name: 'Line 1', medium: undefined });
  expect(area?.lines[0]?.devices).toEqual([device('D', 3, { productRef: 'P' })]);
});

test('the bulk of a document is passed over', async () => {
  const bulk = `<ComObjectInstanceRefs><ComObjectInstanceRef RefId="O" Links="GA-1"/></ComObjectInstanceRefs>
    <BinaryData><BinaryData Name="Area"/></BinaryData><Security/><IPConfig Assign="Auto"/>`;
  const { installations } = await topologyOf(
    knx(`<Project Id="P-0001"><Installations><Installation><Topology><Area Id="A" Address="1"><Line Id="L" Address="1">
      <DeviceInstance Id="D" Address="1">${bulk}</DeviceInstance></Line></Area></Topology>
      <GroupAddresses><GroupRanges><GroupRange Id="G"><GroupAddress Id="GA-1" Address="1"/></GroupRange></GroupRanges>
      </GroupAddresses></Installation></Installations></Project>`),
  );
  expect(installations[0]?.areas).toHaveLength(1);
  expect(installations[0]?.areas[0]?.lines[0]?.devices).toEqual([device('D', 3, { address: 1 })]);
});

test.each([
  ['no project', ''],
  ['no installation', '<Project Id="P-0001"/>'],
  ['an empty list of installations', '<Project Id="P-0001"><Installations/></Project>'],
])('a document of %s has none', async (_name, content) => {
  expect((await topologyOf(knx(content))).installations).toEqual([]);
});
