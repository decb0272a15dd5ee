import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { DEFAULT_LIMITS, type LimitName, type Limits } from '../../src/limits.js';
import { contentOf, zip } from '../support/archives.js';
import { extraField, FULL16, rawZip } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';
import { topologyXml } from '../support/xml.js';

const MIB = 1024 * 1024;

const within = (limits: Partial<Limits>): Limits => ({ ...DEFAULT_LIMITS, ...limits });

async function readAll(file: Buffer, limits: Partial<Limits>): Promise<number> {
  const archive = Archive.open(file, within(limits));
  let bytes = 0;
  for (const part of archive.parts) bytes += (await contentOf(archive, part)).length;
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
  const file = rawZip([{ name: 'a' }], {
    zip64: { entries: 5_000_000, entriesHere: 5_000_000 },
    end: { entries: FULL16, entriesHere: FULL16 },
  });
  await expectOver('archiveEntries', 20_000, () => Archive.open(file, DEFAULT_LIMITS));
});

test('entryNameLength bounds a name, in bytes', async () => {
  const file = rawZip([{ name: 'äöü', data: 'x' }]); // two bytes each
  expect(await readAll(file, { entryNameLength: 6 })).toBe(1);
  await expectOver('entryNameLength', 5, () => readAll(file, { entryNameLength: 5 }), 'äöü');
});

test('a name over its limit is told by its beginning, not by all of its 64 KiB', async () => {
  const file = rawZip([{ name: 'n'.repeat(65_535), data: 'x' }]);
  await expectOver('entryNameLength', 1024, () => readAll(file, {}), 'n'.repeat(1024));
});

test.each(['a/b/c', 'a\\b\\c', './a/b'])('entryDepth bounds the slashes of the name %s', async (name) => {
  const file = rawZip([{ name, data: 'x' }]);
  expect(await readAll(file, { entryDepth: 2 })).toBe(1);
  await expectOver('entryDepth', 1, () => readAll(file, { entryDepth: 1 }), name);
});

test('entryExtraLength bounds the extra fields of both headers', async () => {
  for (const where of ['central', 'local'] as const) {
    const file = rawZip([{ name: 'a', data: 'x', [where]: { extra: extraField(0x5455, Buffer.alloc(6)) } }]);
    expect(await readAll(file, { entryExtraLength: 10 })).toBe(1);
    await expectOver('entryExtraLength', 9, () => readAll(file, { entryExtraLength: 9 }), 'a');
  }
});

test('entryCommentLength bounds the comment of an entry', async () => {
  const file = rawZip([{ name: 'a', data: 'x', central: { comment: Buffer.alloc(10, 'comment') } }]);
  expect(await readAll(file, { entryCommentLength: 10 })).toBe(1);
  await expectOver('entryCommentLength', 9, () => readAll(file, { entryCommentLength: 9 }), 'a');
});

test('archiveCommentLength bounds the comment of the archive', async () => {
  const file = rawZip([{ name: 'a', data: 'x' }], { comment: Buffer.alloc(10, 'comment') });
  expect(await readAll(file, { archiveCommentLength: 10 })).toBe(1);
  await expectOver('archiveCommentLength', 9, () => readAll(file, { archiveCommentLength: 9 }));
});

test('declaredBytes bounds the sizes of all entries, whether they are read or not', async () => {
  const file = await zip({ a: 'x'.repeat(60), b: 'y'.repeat(60) });
  expect(await readAll(file, { declaredBytes: 120 })).toBe(120);
  await expectOver('declaredBytes', 119, () => Archive.open(file, within({ declaredBytes: 119 })), 'b');
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
  expect(b && (await contentOf(archive, b)).length).toBe(60);
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

/** How many bytes of the first part are handed on before it is refused. */
async function handedOn(file: Buffer, limits: Partial<Limits>): Promise<number> {
  const archive = Archive.open(file, within(limits));
  const [part] = archive.parts;
  if (part === undefined) throw new Error('a part was written');
  let bytes = 0;
  await refusalOf(async () => {
    for await (const chunk of archive.stream(part)) bytes += chunk.length;
  });
  expect(archive.partsRead).toEqual([]);
  return bytes;
}

test('a part whose declared size is over a limit is not inflated at all', async () => {
  const file = await zip({ a: Buffer.alloc(64 * MIB) });
  expect(await handedOn(file, { partBytes: MIB })).toBe(0);
  expect(await handedOn(file, { totalBytes: MIB })).toBe(0);
  expect(await handedOn(file, { partRatio: 10 })).toBe(0);
});

test('a part is handed on up to its declared size, however much there is', async () => {
  const declared = 3 * MIB;
  const file = rawZip([{ name: 'a', data: Buffer.alloc(64 * MIB), fields: { bytes: declared } }]);
  const bytes = await handedOn(file, { partRatio: 1e9 });
  expect(bytes).toBeGreaterThan(0);
  expect(bytes).toBeLessThanOrEqual(declared);
  expect(await refusalOf(() => readAll(file, { partRatio: 1e9 }))).toMatchObject({ code: 'size-mismatch' });
});
