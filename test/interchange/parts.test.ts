import { describe, expect, test } from 'vitest';
import { audit } from '../../src/audit.js';
import { zip } from '../support/archives.js';
import { rawZip } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';
import { hardwareXml, knx, topologyXml } from '../support/xml.js';

/** A line of one device, in a document of a project. */
function installation(id: string, project = 'P-0001', product = 'P'): string {
  const device = `<DeviceInstance Id="${id}D" Address="1" ProductRefId="${product}"/>`;
  const segment = `<Segment Id="${id}S" Number="0" MediumTypeRefId="MT-0">${device}</Segment>`;
  const area = `<Area Id="${id}A" Address="1"><Line Id="${id}L" Address="1">${segment}</Line></Area>`;
  return topologyXml(area).replace('Id="P-0001"', `Id="${project}"`);
}

const products = (current: number) =>
  hardwareXml(`<Hardware Id="H" BusCurrent="${current}"><Products><Product Id="P"/></Products></Hardware>`);

const information = (name: string) => knx(`<Project Id="P-0001"><ProjectInformation Name="${name}"/></Project>`);

/** Projects with names and installations, and what each segment carries. */
async function found(parts: Record<string, string>) {
  const { projects, segments } = await audit(await zip(parts));
  return {
    projects: projects.map(({ id, name, installations }) => [
      id,
      name,
      installations.map(({ number, part }) => [number, part]),
    ]),
    loads: segments.map(({ id, project, installation: number, load }) => [project, number, id, load.totalMa]),
  };
}

const HOUSE = {
  'P-0001/0.xml': installation('a'),
  'P-0001/project.xml': information('House'),
  'M-F0A1/Hardware.xml': products(5),
};

const renamed = (parts: Record<string, string>, rename: (name: string) => string) =>
  Object.fromEntries(Object.entries(parts).map(([name, text]) => [rename(name), text]));

describe('wherever the parts stand', () => {
  const cases: readonly (readonly [string, (name: string) => string])[] = [
    ['at the top', (name) => name],
    ['in a folder', (name) => `Export/${name}`],
    ['in nested folders', (name) => `My exports/2026 (1)/${name}`],
    ['behind backslashes', (name) => name.replaceAll('/', '\\')],
    ['in a folder, behind backslashes', (name) => `Export\\${name.replaceAll('/', '\\')}`],
    ['in capitals', (name) => name.toUpperCase()],
    ['in small letters', (name) => name.toLowerCase()],
    ['in the older spelling', (name) => name.replace('project.xml', 'Project.xml')],
  ];
  test.each(cases)('%s', async (_name, rename) => {
    expect(await found(renamed(HOUSE, rename))).toEqual({
      projects: [['P-0001', 'House', [[0, rename('P-0001/0.xml')]]]],
      loads: [['P-0001', 0, 'aS', 5]],
    });
  });

  test('hardware of another folder belongs to another export', async () => {
    const { loads } = await found({ 'A/P-0001/0.xml': installation('a'), 'B/M-F0A1/Hardware.xml': products(5) });
    expect(loads).toEqual([['P-0001', 0, 'aS', 10]]); // the product is not known, so 10 mA are assumed
  });

  test('what only looks like a part is none', async () => {
    const others = {
      'P-0001/0.xml.bak': 'x',
      'P-0001/sub/0.xml': 'x',
      'XP-0001/0.xml': 'x',
      'P-00001/0.xml': 'x',
      'P-00G1/0.xml': 'x',
      'P-0001/a.xml': 'x',
      'P-0001/my0.xml': 'x',
      'M-F0A1/MyHardware.xml': 'x',
      'M-F0A1/Catalog.xml': 'x',
      'M-F0A1/Hardware.xml.txt': 'x',
      'knx_master.xml.txt': 'x',
      'P-0001.zip.txt': 'x',
    };
    const report = await audit(await zip({ ...others, ...HOUSE }));
    expect(report.archive.parts.map(({ name }) => name)).toEqual(Object.keys(HOUSE).sort());
  });
});

describe('several of them', () => {
  test('one project twice is refused, as a report could not tell the two apart', async () => {
    const parts = { 'X/P-00A1/0.xml': installation('a', 'P-00A1'), 'Y/p-00a1/0.xml': installation('b', 'P-00A1') };
    await expect(found(parts)).rejects.toMatchObject({
      code: 'ambiguous-part',
      message: expect.stringMatching(/P-00A1.*"\/x\/".*"\/y\/"/),
    });
  });

  test('the folder says which project it is, whatever its document claims', async () => {
    const parts = { 'P-00A1/0.xml': installation('a', 'P-0FFF'), 'P-00B2/0.xml': installation('b', 'P-0FFF') };
    expect((await found(parts)).projects.map(([id]) => id)).toEqual(['P-00A1', 'P-00B2']);
  });

  test('two projects', async () => {
    const parts = {
      'P-00B2/0.xml': installation('b', 'P-00B2'),
      'P-00A1/0.xml': installation('a', 'P-00A1'),
      'P-00A1/project.xml': information('First'),
      'M-F0A1/Hardware.xml': products(5),
    };
    expect(await found(parts)).toEqual({
      projects: [
        ['P-00A1', 'First', [[0, 'P-00A1/0.xml']]],
        ['P-00B2', null, [[0, 'P-00B2/0.xml']]],
      ],
      loads: [
        ['P-00A1', 0, 'aS', 5],
        ['P-00B2', 0, 'bS', 5],
      ],
    });
  });

  test('two exports of projects with products of their own', async () => {
    const parts = {
      'X/P-00A1/0.xml': installation('a', 'P-00A1'),
      'X/M-F0A1/Hardware.xml': products(5),
      'Y/P-00B2/0.xml': installation('b', 'P-00B2'),
      'Y/M-F0A1/Hardware.xml': products(7),
    };
    expect((await found(parts)).loads).toEqual([
      ['P-00A1', 0, 'aS', 5],
      ['P-00B2', 0, 'bS', 7],
    ]);
  });

  test('installations in documents of their own, in the order of their numbers', async () => {
    const parts = {
      'P-0001/10.xml': installation('k'),
      'P-0001/2.xml': installation('c'),
      'P-0001/0.xml': installation('a'),
      'M-F0A1/Hardware.xml': products(5),
    };
    expect(await found(parts)).toEqual({
      projects: [
        [
          'P-0001',
          null,
          [
            [0, 'P-0001/0.xml'],
            [2, 'P-0001/2.xml'],
            [10, 'P-0001/10.xml'],
          ],
        ],
      ],
      loads: [
        ['P-0001', 0, 'aS', 5],
        ['P-0001', 2, 'cS', 5],
        ['P-0001', 10, 'kS', 5],
      ],
    });
  });

  test('each installation has a number of its own, however the documents divide them', async () => {
    const double = installation('a').replace(
      /<Installation .*<\/Installation>/s,
      (one) => one + one.replaceAll('"a', '"b'),
    );
    const { loads } = await found({
      'P-0001/0.xml': double,
      'P-0001/1.xml': installation('c'),
      'M-F0A1/Hardware.xml': products(5),
    });
    expect(loads.map(([, , id]) => id)).toEqual(['aS', 'bS', 'cS']);
    expect(new Set(loads.map(([, number]) => number)).size).toBe(3);
  });

  test('makers', async () => {
    const other = hardwareXml(
      '<Hardware Id="H2" BusCurrent="9"><Products><Product Id="Q"/></Products></Hardware>',
      'M-F0B2',
    );
    const { loads } = await found({
      'P-0001/0.xml': installation('a'),
      'P-0001/1.xml': installation('b', 'P-0001', 'Q'),
      'M-F0A1/Hardware.xml': products(5),
      'M-F0B2/Hardware.xml': other,
    });
    expect(loads.map(([, , id, total]) => [id, total])).toEqual([
      ['aS', 5],
      ['bS', 9],
    ]);
  });
});

describe('nothing to audit', () => {
  const segmentless = topologyXml('<Area Id="A" Address="1"><Line Id="L" Address="1"/></Area>');

  test('no project: the answer names what was looked for', async () => {
    for (const parts of [
      { 'readme.txt': 'x' },
      { 'knx_master.xml': knx('') },
      { 'M-F0A1/Hardware.xml': products(5) },
    ]) {
      const refusal = await refusalOf(async () => audit(await zip(parts)));
      expect(refusal).toMatchObject({ code: 'no-project', status: 422 });
      expect(refusal.message).toContain('P-XXXX/0.xml');
    }
  });

  test('an information document without a topology', async () => {
    const refusal = await refusalOf(async () => audit(await zip({ 'P-00A1/project.xml': information('House') })));
    expect(refusal.code).toBe('no-project');
    expect(refusal.message).toContain('P-00A1/0.xml');
  });

  test('two projects, one without a topology: the answer names it', async () => {
    const parts = { ...HOUSE, 'P-00A1/project.xml': information('Other') };
    const refusal = await refusalOf(async () => audit(await zip(parts)));
    expect(refusal.code).toBe('no-project');
    expect(refusal.message).toContain('P-00A1');
  });

  test.each([
    ['no installation', knx('<Project Id="P-0001"/>')],
    ['an empty list of installations', knx('<Project Id="P-0001"><Installations/></Project>')],
  ])('%s', async (_name, document) => {
    expect(await refusalOf(async () => audit(await zip({ 'P-0001/0.xml': document })))).toMatchObject({
      code: 'no-project',
      place: { part: 'P-0001/0.xml' },
    });
  });

  test.each([
    ['no topology', knx('<Project Id="P-0001"><Installations><Installation/></Installations></Project>')],
    ['no area', topologyXml('')],
    ['no line', topologyXml('<Area Id="A" Address="1"/>')],
    ['no segment', segmentless],
    ['devices on no line alone', topologyXml('<UnassignedDevices><DeviceInstance Id="D"/></UnassignedDevices>')],
  ])('%s', async (_name, document) => {
    expect(await refusalOf(async () => audit(await zip({ 'P-0001/0.xml': document })))).toMatchObject({
      code: 'no-segments',
      status: 422,
      place: { part: 'P-0001/0.xml' },
    });
  });

  test('two projects, one without segments: the answer names it', async () => {
    const parts = { ...HOUSE, 'P-00A1/0.xml': segmentless.replace('P-0001', 'P-00A1') };
    const refusal = await refusalOf(async () => audit(await zip(parts)));
    expect(refusal).toMatchObject({ code: 'no-segments', place: { part: 'P-00A1/0.xml' } });
    expect(refusal.message).toContain('P-00A1');
  });
});

describe('a project that is protected by a password', () => {
  test.each(['P-0001.zip', 'Export/P-00AB.zip', 'Export\\p-00ab.ZIP'])('%s', async (name) => {
    const refusal = await refusalOf(async () => audit(await zip({ 'knx_master.xml': knx(''), [name]: 'locked' })));
    expect(refusal).toMatchObject({ code: 'protected-project', status: 422, place: { part: name } });
    expect(refusal.message).toContain('without a password');
  });

  test('beside one that is not', async () => {
    const refusal = await refusalOf(async () => audit(await zip({ ...HOUSE, 'P-00AB.zip': 'locked' })));
    expect(refusal).toMatchObject({ code: 'protected-project', place: { part: 'P-00AB.zip' } });
  });

  test('an archive in the archive by another name is passed over', async () => {
    const inner = rawZip([{ name: 'x', data: 'x' }]).toString('latin1');
    expect((await found({ ...HOUSE, 'backup.zip': inner })).loads).toEqual([['P-0001', 0, 'aS', 5]]);
  });
});
