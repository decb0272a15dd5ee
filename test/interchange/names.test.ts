import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { readMasterNames, readProjectName } from '../../src/interchange/names.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { zip } from '../support/archives.js';
import { refusalOf } from '../support/refusal.js';
import { hardwareXml, knx, marked, topologyXml } from '../support/xml.js';

async function only(name: string, document: string) {
  const archive = Archive.open(await zip({ [name]: document }), DEFAULT_LIMITS);
  const [part] = archive.parts;
  if (part === undefined) throw new Error('a part was written');
  return [archive, part, DEFAULT_LIMITS] as const;
}

const projectName = async (content: string) =>
  readProjectName(...(await only('P-0001/project.xml', knx(`<Project Id="P-0001">${content}</Project>`))));

const masterNames = async (content: string) =>
  Object.fromEntries(
    await readMasterNames(...(await only('knx_master.xml', knx(`<MasterData>${content}</MasterData>`)))),
  );

describe('the name of a project', () => {
  test.each([
    ['as it stands', '<ProjectInformation Name="House" ProjectNumber="7" Comment="x"/>', 'House'],
    ['without the blanks around it', '<ProjectInformation Name=" House "/>', 'House'],
    ['with references resolved', '<ProjectInformation Name="A &amp; B &#xE4; &amp;lt;"/>', 'A & B ä &lt;'],
    ['with a line end as a blank', '<ProjectInformation Name="North\nwing"/>', 'North wing'],
    ['with a line end that is a reference', '<ProjectInformation Name="North&#10;wing"/>', 'North\nwing'],
    ['none, where it is empty', '<ProjectInformation Name=""/>', undefined],
    ['none, where it is missing', '<ProjectInformation Comment="x"/>', undefined],
    ['none, without information', '', undefined],
    ['none, from a foreign element', '<x:ProjectInformation xmlns:x="urn:x" Name="No"/>', undefined],
    ['none, from a foreign attribute', '<ProjectInformation xmlns:x="urn:x" x:Name="No"/>', undefined],
  ])('%s', async (_name, content, expected) => {
    expect(await projectName(content)).toBe(expected);
  });

  test('a document of something else has none', async () => {
    expect(await readProjectName(...(await only('P-0001/project.xml', knx('<MasterData/>'))))).toBeUndefined();
  });
});

describe('names out of the master data', () => {
  test('of media and makers', async () => {
    expect(
      await masterNames(`
        <MediumTypes><MediumType Id="MT-0" Number="0" Name="TP" Text="Twisted Pair"/><MediumType Id="MT-9" Name="Light"/></MediumTypes>
        <Manufacturers><Manufacturer Id="M-F0A1" Name="First Maker &amp; Co"/></Manufacturers>`),
    ).toEqual({ 'MT-0': 'Twisted Pair', 'MT-9': 'Light', 'M-F0A1': 'First Maker & Co' });
  });

  test('and of nothing else', async () => {
    expect(
      await masterNames(`
        <DatapointTypes><DatapointType Id="DPT-1" Name="1.xxx" Text="1-bit"/></DatapointTypes>
        <MaskVersions><MaskVersion Id="MV-1" Name="1.1"/></MaskVersions>
        <Manufacturer Id="M-1" Name="outside its list"/><MediumTypes><Extra><MediumType Id="MT-7" Name="deeper"/></Extra></MediumTypes>
        <MediumTypes><MediumType Name="no id"/><MediumType Id="MT-8"/></MediumTypes>
        <x:Manufacturers xmlns:x="urn:x"><Manufacturer Id="M-2" Name="inside a foreign list"/></x:Manufacturers>`),
    ).toEqual({});
  });

  test('ids that mean something to the program mean nothing here', async () => {
    const names = await readMasterNames(
      ...(await only(
        'knx_master.xml',
        knx('<MasterData><Manufacturers><Manufacturer Id="__proto__" Name="x"/></Manufacturers></MasterData>'),
      )),
    );
    expect([...names]).toEqual([['__proto__', 'x']]);
  });

  test('faults of the document are refused', async () => {
    const { text, line } = marked(knx('<MasterData>\n<MediumTypes></MasterData>¦'));
    const master = await only('knx_master.xml', text);
    expect(await refusalOf(() => readMasterNames(...master))).toMatchObject({
      code: 'malformed-xml',
      place: { part: 'knx_master.xml', line },
    });
  });
});

describe('in the report', () => {
  const parts = {
    'P-0001/0.xml': topologyXml(`<Area Id="A" Address="1">
      <Line Id="L1" Address="1"><Segment Id="S1" Number="0" MediumTypeRefId="MT-0">
        <DeviceInstance Id="D" Address="1" ProductRefId="P"/></Segment></Line>
      <Line Id="L2" Address="2"><Segment Id="S2" Number="0" MediumTypeRefId="MT-9"/></Line></Area>`),
    'M-F0A1/Hardware.xml': hardwareXml('<Hardware Id="H"><Products><Product Id="P"/></Products></Hardware>'),
  };
  const master = knx(`<MasterData><MediumTypes><MediumType Id="MT-9" Text="Light"/></MediumTypes>
    <Manufacturers><Manufacturer Id="M-F0A1" Name="First Maker"/></Manufacturers></MasterData>`);
  const information = knx('<Project Id="P-0001"><ProjectInformation Name="House"/></Project>');

  const namesOf = async (more: Record<string, string>) => {
    const { projects, segments } = await audit(await zip({ ...parts, ...more }));
    return [projects[0]?.name, segments[0]?.devices[0]?.manufacturer, segments[1]?.medium.name];
  };

  test('names stand where there are any', async () => {
    expect(await namesOf({ 'knx_master.xml': master, 'P-0001/project.xml': information })).toEqual([
      'House',
      'First Maker',
      'Light',
    ]);
  });

  test('the audit works without them', async () => {
    expect(await namesOf({})).toEqual([null, 'M-F0A1', 'MT-9']);
  });
});
