import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { DEFAULT_LIMITS, type LimitName, type Limits } from '../../src/limits.js';
import { zip } from '../support/archives.js';
import { rawZip } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';
import { topologyXml } from '../support/xml.js';

const MIB = 1024 * 1024;

const within = (limits: Partial<Limits>): Limits => ({ ...DEFAULT_LIMITS, ...limits });

async function readAll(file: Buffer, limits: Partial<Limits>): Promise<number> {
  const archive = Archive.open(file, within(limits));
  let bytes = 0;
  for (const part of archive.parts) bytes += (await archive.read(part)).length;
  return bytes;
}

/** A step is refused for a limit, in words that name the limit and its value. */
async function expectOver(name: LimitName, value: number, step: () => unknown, part?: string): Promise<void> {
  const refusal = await refusalOf(step);
  expect(refusal).toMatchObject({ code: 'limit-exceeded', status: 413 });
  expect(refusal.place.part).toBe(part);
  expect(refusal.message).toMatch(new RegExp(`\\b${name}\\b.*\\b${value}\\b`));
}

test('uploadBytes bounds the file', async () => {
  const file = rawZip([{ name: 'a', data: 'x' }]);
  expect(await readAll(file, { uploadBytes: file.length })).toBe(1);
  await expectOver('uploadBytes', file.length - 1, () => readAll(file, { uploadBytes: file.length - 1 }));
});

test('archiveEntries bounds the entries, directories included', async () => {
  const file = rawZip([{ name: 'P-0001/' }, { name: 'a', data: 'x' }, { name: 'b', data: 'y' }]);
  expect(await readAll(file, { archiveEntries: 3 })).toBe(2);
  await expectOver('archiveEntries', 2, () => readAll(file, { archiveEntries: 2 }));
});

test('archiveEntries bounds what a zip64 end record announces', async () => {
  const file = rawZip([{ name: 'a' }], { zip64: { entries: 5_000_000, entriesHere: 5_000_000 } });
  await expectOver('archiveEntries', 20_000, () => Archive.open(file, DEFAULT_LIMITS));
});

test('entryNameLength bounds a name, in bytes', async () => {
  const file = rawZip([{ name: 'äöü', data: 'x' }]); // two bytes each
  expect(await readAll(file, { entryNameLength: 6 })).toBe(1);
  await expectOver('entryNameLength', 5, () => readAll(file, { entryNameLength: 5 }), 'äöü');
});

test('partBytes bounds a part, inflated', async () => {
  const file = await zip({ a: 'x'.repeat(100) });
  expect(await readAll(file, { partBytes: 100 })).toBe(100);
  await expectOver('partBytes', 99, () => readAll(file, { partBytes: 99 }), 'a');
});

test('totalBytes bounds all that is read, and only what is read', async () => {
  const file = await zip({ a: 'x'.repeat(60), b: 'y'.repeat(60) });
  expect(await readAll(file, { totalBytes: 120 })).toBe(120);
  await expectOver('totalBytes', 119, () => readAll(file, { totalBytes: 119 }), 'b');
  const archive = Archive.open(file, within({ totalBytes: 60 }));
  const [, b] = archive.parts;
  expect(b && (await archive.read(b)).length).toBe(60);
});

test('partRatio bounds how well a part over 1 MiB packs', async () => {
  const zeros = (bytes: number) => zip({ a: Buffer.alloc(bytes) }); // deflate packs zeros about 1000 : 1
  const file = await zeros(2 * MIB);
  const packed = file.readUInt32LE(18);
  const ratio = Math.ceil((2 * MIB) / packed);
  expect(await readAll(file, { partRatio: ratio })).toBe(2 * MIB);
  await expectOver('partRatio', ratio - 1, () => readAll(file, { partRatio: ratio - 1 }), 'a');
  expect(await readAll(await zeros(MIB), { partRatio: 10 })).toBe(MIB);
});

test('topologyBytes bounds a topology document, and partBytes does not', async () => {
  const topology = topologyXml(
    '<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="S" Number="0"/></Line></Area>',
  );
  const file = await zip({ 'P-0001/0.xml': topology });
  const bytes = Buffer.byteLength(topology);
  const report = await audit(file, { limits: within({ partBytes: 1, topologyBytes: bytes }) });
  expect(report.archive.parts).toMatchObject([{ name: 'P-0001/0.xml', bytes }]);
  const less = within({ topologyBytes: bytes - 1 });
  await expectOver('topologyBytes', bytes - 1, () => audit(file, { limits: less }), 'P-0001/0.xml');
});

test('what is over a limit is not handed on, however much there is', async () => {
  const file = await zip({ a: Buffer.alloc(64 * MIB) });
  const archive = Archive.open(file, within({ partBytes: MIB, partRatio: 1e9 }));
  const [part] = archive.parts;
  let bytes = 0;
  const reading = async () => {
    if (part) for await (const chunk of archive.stream(part)) bytes += chunk.length;
  };
  await expectOver('partBytes', MIB, reading, 'a');
  expect(bytes).toBeGreaterThan(0);
  expect(bytes).toBeLessThanOrEqual(MIB);
  expect(archive.partsRead).toEqual([]);
});

test('a size that is declared too low hides nothing from the limits', async () => {
  const file = rawZip([{ name: 'a', data: Buffer.alloc(4 * MIB, 'text '), fields: { bytes: 10 } }]);
  await expectOver('partBytes', MIB, () => readAll(file, { partBytes: MIB }), 'a');
});
