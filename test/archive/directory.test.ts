import JSZip from 'jszip';
import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { readDirectory } from '../../src/archive/directory.js';
import { audit } from '../../src/audit.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { contentOf, zip } from '../support/archives.js';
import { needsPython, python } from '../support/python.js';
import { descriptor, extraField, FULL16, FULL32, type RawEntry, rawZip, uint32s, uint64s } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';

/** The check value that every CRC-32 has to give for this text. */
const DIGITS = '123456789';
const DIGITS_CRC = 0xcbf43926;

const FULL_END = {
  disk: FULL16,
  entriesHere: FULL16,
  entries: FULL16,
  directoryBytes: FULL32,
  directoryOffset: FULL32,
};

const summary = (file: Buffer) =>
  readDirectory(file, DEFAULT_LIMITS).map(({ name, bytes, crc32: crc, isDirectory }) => ({
    name,
    bytes,
    crc,
    isDirectory,
  }));

async function contents(file: Buffer): Promise<Record<string, string>> {
  const archive = Archive.open(file, DEFAULT_LIMITS);
  const found: Record<string, string> = {};
  for (const part of archive.parts) found[part.name] = (await contentOf(archive, part)).toString();
  return found;
}

const digits = (name: string, more: Partial<RawEntry> = {}): RawEntry => ({ name, data: DIGITS, ...more });
const DIGITS_ENTRY = { bytes: 9, crc: DIGITS_CRC, isDirectory: false };

test('an archive is read in the order of its directory', async () => {
  const file = await zip({ 'b.xml': DIGITS, 'a.xml': '' });
  expect(summary(file)).toEqual([
    { name: 'b.xml', ...DIGITS_ENTRY },
    { name: 'a.xml', bytes: 0, crc: 0, isDirectory: false },
  ]);
  expect(await contents(file)).toEqual({ 'b.xml': DIGITS, 'a.xml': '' });
});

test('stored entries are read', async () => {
  const file = await zip({ a: DIGITS }, { stored: true });
  expect(file.readUInt16LE(8)).toBe(0); // the method of the first local header
  expect(summary(file)).toEqual([{ name: 'a', ...DIGITS_ENTRY }]);
  expect(await contents(file)).toEqual({ a: DIGITS });
});

test.each(['DEFLATE', 'STORE'] as const)('a data descriptor behind the data is read (%s)', async (compression) => {
  const archive = new JSZip().file('a', DIGITS).file('b', DIGITS);
  const file = await archive.generateAsync({ type: 'nodebuffer', compression, streamFiles: true });
  expect(file.readUInt16LE(6) & 8).toBe(8); // the flag of the first local header
  expect(file.readUInt32LE(22)).toBe(0); // and its size, blank
  expect(summary(file)).toEqual([
    { name: 'a', ...DIGITS_ENTRY },
    { name: 'b', ...DIGITS_ENTRY },
  ]);
  expect(await contents(file)).toEqual({ a: DIGITS, b: DIGITS });
});

test('a zip64 end record is read', async () => {
  const file = rawZip([digits('a'), digits('b')], { zip64: {}, end: FULL_END });
  expect(summary(file).map(({ name }) => name)).toEqual(['a', 'b']);
  expect(await contents(file)).toEqual({ a: DIGITS, b: DIGITS });
});

test('zip64 sizes and places in the extra field of an entry are read', async () => {
  const first = digits('a');
  const secondAt = rawZip([first]).indexOf(uint32s(0x02014b50)); // right behind the first entry
  const extra = Buffer.concat([
    extraField(0x5455, uint32s(0)), // a time, of no use here
    extraField(0x0001, uint64s(9, 9, secondAt)),
  ]);
  const wide = { bytes: FULL32, packedBytes: FULL32, extra };
  const second = digits('b', { stored: true, local: wide, central: { ...wide, offset: FULL32 } });
  const file = rawZip([first, second]);
  expect(summary(file)[1]).toEqual({ name: 'b', ...DIGITS_ENTRY });
  expect(await contents(file)).toEqual({ a: DIGITS, b: DIGITS });
});

test.each([
  ['with a signature', { signed: true, wide: false }],
  ['without a signature', { signed: false, wide: false }],
  ['with a signature, of zip64', { signed: true, wide: true }],
  ['without a signature, of zip64', { signed: false, wide: true }],
])('each form of a data descriptor is read: %s', async (_name, form) => {
  const figures = { crc: DIGITS_CRC, packedBytes: 9, bytes: 9 };
  const entry = (name: string) => digits(name, { stored: true, descriptor: descriptor(figures, form) });
  expect(await contents(rawZip([entry('a'), entry('b')]))).toEqual({ a: DIGITS, b: DIGITS });
});

test('of two forms of a descriptor that could be meant, the one is taken that leaves no gap', async () => {
  // No data: a checksum and sizes of zero, so that zeros of any length are descriptors.
  const empty = (name: string, bytes: number): RawEntry => ({
    name,
    stored: true,
    descriptor: Buffer.alloc(bytes),
  });
  expect(await contents(rawZip([empty('a', 12), empty('b', 20)]))).toEqual({ a: '', b: '' });
  expect((await refusalOf(() => contents(rawZip([empty('a', 16)])))).code).toBe('archive-gap');
});

test.for(['DEFLATED', 'STORED'])('what Python streams to a pipe is read (%s)', async (method, context) => {
  needsPython(context);
  const program = `
import io, sys, zipfile
class Pipe(io.RawIOBase):
    def writable(self): return True
    def write(self, data): return sys.stdout.buffer.write(data)
with zipfile.ZipFile(Pipe(), 'w', zipfile.ZIP_${method}) as archive:
    archive.writestr('folder/', b'')
    archive.writestr('folder/a', b'${DIGITS}')
    with archive.open('b\u00fc', 'w', force_zip64=True) as entry:
        entry.write(b'${DIGITS}')
    archive.comment = b'a comment'
`;
  const file = python('-c', program);
  expect(file.readUInt16LE(file.indexOf('folder/a') - 24) & 8).toBe(8); // the flag of a descriptor
  expect(await contents(file)).toEqual({ 'folder/a': DIGITS, bü: DIGITS });
});

test('what is of no use here is passed over: times, owners, comments, a text flag, a compression level', async () => {
  const extra = Buffer.concat([
    extraField(0x5455, Buffer.from([3]), uint32s(1, 2)), // extended times
    extraField(0x7875, Buffer.from([1, 4, 0, 0, 0, 0, 4, 0, 0, 0, 0])), // owner
    extraField(0x000a, Buffer.alloc(32)), // NTFS times
    Buffer.alloc(3), // padding
  ]);
  const entry = digits('a', {
    fields: { flags: 0x0002 },
    local: { extra },
    central: {
      extra: extraField(0x5455, Buffer.from([3]), uint32s(1)),
      comment: Buffer.from('a comment'),
      attributes: 0x81a40001,
    },
  });
  expect(await contents(rawZip([entry, digits('b')]))).toEqual({ a: DIGITS, b: DIGITS });
});

test('an archive stored in an archive is a part, and not opened', async () => {
  const inner = rawZip([digits('a')], { trailing: Buffer.from('a fault that nobody sees') });
  const file = rawZip([digits('x'), { name: 'inner.zip', stored: true, data: inner }]);
  expect(summary(file).map(({ name }) => name)).toEqual(['x', 'inner.zip']);
});

test('twenty thousand entries are checked fast', () => {
  const names = Array.from({ length: 20_000 }, (_, index) => `M-${index % 97}/Folder ä/${index}.xml`);
  const file = rawZip(names.map((name) => digits(name, { descriptor: true })));
  expect(readDirectory(file, DEFAULT_LIMITS)).toHaveLength(20_000);
  const start = performance.now();
  readDirectory(file, DEFAULT_LIMITS);
  expect(performance.now() - start).toBeLessThan(1000); // takes about 50 ms where nothing else runs
});

test('zip64 headers as the Python standard library writes them are read', async (context) => {
  needsPython(context);
  const program = `
import io, sys, zipfile
file = io.BytesIO()
with zipfile.ZipFile(file, 'w', zipfile.ZIP_DEFLATED) as archive:
    for name in ('a', 'b'):
        with archive.open(name, 'w', force_zip64=True) as entry:
            entry.write(b'${DIGITS}')
sys.stdout.buffer.write(file.getvalue())
`;
  const file = python('-c', program);
  expect(file.readUInt16LE(28)).toBe(20); // the local extra field: two sizes of 8 bytes behind its header
  expect(summary(file)).toEqual([
    { name: 'a', ...DIGITS_ENTRY },
    { name: 'b', ...DIGITS_ENTRY },
  ]);
  expect(await contents(file)).toEqual({ a: DIGITS, b: DIGITS });
});

test.each([1, 22, 4096])('an archive comment of %i bytes is passed over', async (length) => {
  const file = rawZip([digits('a')], { comment: Buffer.alloc(length, 'comment ') });
  expect(summary(file)).toEqual([{ name: 'a', ...DIGITS_ENTRY }]);
  expect(await contents(file)).toEqual({ a: DIGITS });
});

test('directory entries are entries, and no parts', async () => {
  const file = await new JSZip().file('P-0001/Sub/a', DIGITS).generateAsync({ type: 'nodebuffer' });
  expect(summary(file)).toEqual([
    { name: 'P-0001/', bytes: 0, crc: 0, isDirectory: true },
    { name: 'P-0001/Sub/', bytes: 0, crc: 0, isDirectory: true },
    { name: 'P-0001/Sub/a', ...DIGITS_ENTRY },
  ]);
  expect(await contents(file)).toEqual({ 'P-0001/Sub/a': DIGITS });
  expect(summary(rawZip([{ name: 'x\\' }]))[0]?.isDirectory).toBe(true);
});

test('an empty archive is one without parts, and so without a project', async () => {
  const file = rawZip([]);
  expect(summary(file)).toEqual([]);
  const archive = Archive.open(file, DEFAULT_LIMITS);
  expect(archive.parts).toEqual([]);
  expect(archive.bytes).toBe(22);
  // as `sha256sum` gives it for the 22 bytes of an empty archive
  expect(archive.sha256).toBe('8739c76e681f900923b900c9df0ef75cf421d39cabb54650c4b9ad19b6a76d85');
  expect((await refusalOf(() => audit(file))).code).toBe('no-project');
});

test('parts are recognised by slashes, letters and composition made one', async () => {
  const file = rawZip([digits('Export\\P-00AB\\0.XML'), digits('Bu\u0308ro.xml')]);
  const { parts } = Archive.open(file, DEFAULT_LIMITS);
  expect(parts.map(({ name, path }) => [name, path])).toEqual([
    ['Export\\P-00AB\\0.XML', 'export/p-00ab/0.xml'],
    ['Bu\u0308ro.xml', 'b\u00fcro.xml'],
  ]);
});
