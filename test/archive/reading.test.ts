import { crc32 } from 'node:zlib';
import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { contentOf, fixtureParts, zip } from '../support/archives.js';
import { type RawEntry, rawZip } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';
import { topologyXml } from '../support/xml.js';

/** What the audit of the school needs: topology, names, products. Everything else is left packed. */
const NEEDED = [
  'M-F0A1/Hardware.xml',
  'M-F0B2/Hardware.xml',
  'M-F0C3/Hardware.xml',
  'P-05C0/0.xml',
  'P-05C0/project.xml',
  'knx_master.xml',
];

const school = Object.entries(fixtureParts('school'));

/** The school, with some entries written another way. */
const schoolWith = (change: (name: string) => Partial<RawEntry> | undefined, more: readonly RawEntry[] = []) =>
  rawZip([...school.map(([name, data]) => ({ name, data, ...change(name) })), ...more]);

const isNeeded = (name: string) => NEEDED.includes(name);

test('the report lists the parts that were read, with their size and checksum, and no others', async () => {
  const { archive } = await audit(schoolWith(() => undefined));
  const expected = school
    .filter(([name]) => isNeeded(name))
    .map(([name, data]) => ({ name, bytes: data.length, crc32: crc32(data).toString(16).padStart(8, '0') }));
  expect(expected).toHaveLength(NEEDED.length);
  expect(archive.parts).toEqual(expected.sort((a, b) => (a.name < b.name ? -1 : 1)));
});

test.each([
  ['broken data', { packed: Buffer.alloc(64, 7) }],
  ['a wrong checksum', { fields: { crc: 1 } }],
  ['a wrong size', { fields: { bytes: 1 } }],
])('a part that is not needed may have %s', async (_name, fault) => {
  const signature: RawEntry = { name: 'M-F0A1.signature', data: 'signed', ...fault };
  const baggage: RawEntry = { name: 'M-F0A1/Baggages/01/manual.pdf', data: 'book', ...fault };
  const harmed = await audit(schoolWith((name) => (isNeeded(name) ? undefined : fault), [signature, baggage]));
  const sound = await audit(schoolWith(() => undefined));
  expect(school.some(([name]) => !isNeeded(name))).toBe(true);
  expect({ ...harmed, archive: harmed.archive.parts }).toEqual({ ...sound, archive: sound.archive.parts });
});

test.each(NEEDED)('%s may not', async (needed) => {
  const fault = { fields: { crc: 1 } };
  expect(await refusalOf(() => audit(schoolWith((name) => (name === needed ? fault : undefined))))).toMatchObject({
    code: 'checksum-mismatch',
    place: { part: needed },
  });
});

test('a checksum that begins with zeros keeps them', async () => {
  const archive = Archive.open(await zip({ a: 'part 4946' }), DEFAULT_LIMITS);
  const [part] = archive.parts;
  if (part) await contentOf(archive, part);
  expect(archive.partsRead).toEqual([{ name: 'a', bytes: 9, crc32: '000d0108' }]); // by Python's binascii
});

test('a part counts as read once it is read to its end', async () => {
  const archive = Archive.open(await zip({ b: 'x'.repeat(1_000_000), a: 'y' }), DEFAULT_LIMITS);
  const [b, a] = archive.parts;
  if (a === undefined || b === undefined) throw new Error('two parts were written');
  expect(archive.partsRead).toEqual([]);
  for await (const chunk of archive.stream(b)) {
    expect(chunk.length).toBeLessThan(1_000_000);
    break;
  }
  expect(archive.partsRead).toEqual([]);
  await contentOf(archive, b);
  await contentOf(archive, a);
  expect(archive.partsRead.map(({ name }) => name)).toEqual(['a', 'b']);
});

test('a part of another archive is no part of this one', async () => {
  const one = Archive.open(await zip({ a: 'x' }), DEFAULT_LIMITS);
  const other = Archive.open(await zip({ a: 'x' }), DEFAULT_LIMITS);
  const [foreign] = other.parts;
  if (foreign === undefined) throw new Error('a part was written');
  await expect(contentOf(one, foreign)).rejects.toThrow('not a part of this archive');
});

test('a part that two projects share is listed once', async () => {
  const area = '<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="S" Number="0"/></Line></Area>';
  const file = await zip({
    'P-0001/0.xml': topologyXml(area),
    'P-0002/0.xml': topologyXml(area).replace('P-0001', 'P-0002'),
    'M-F0A1/Hardware.xml': '<KNX xmlns="http://knx.org/xml/project/23"/>',
    'knx_master.xml': '<KNX xmlns="http://knx.org/xml/project/23"/>',
  });
  const { archive, projects } = await audit(file);
  expect(projects.map(({ id }) => id)).toEqual(['P-0001', 'P-0002']);
  const names = ['M-F0A1/Hardware.xml', 'P-0001/0.xml', 'P-0002/0.xml', 'knx_master.xml'];
  expect(archive.parts.map(({ name }) => name)).toEqual(names);
});
