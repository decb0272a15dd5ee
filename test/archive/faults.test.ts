import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { readDirectory } from '../../src/archive/directory.js';
import type { InputFault } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { contentOf } from '../support/archives.js';
import {
  descriptor,
  type EndFields,
  endRecord,
  extraField,
  FULL16,
  FULL32,
  type RawEntry,
  type RawZipOptions,
  rawZip,
  uint16s,
  uint32s,
  uint64s,
  zip64End,
} from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';

/** What a structural check says of a file. */
const refusal = (file: Buffer) => refusalOf(() => readDirectory(file, DEFAULT_LIMITS));

const a: RawEntry = { name: 'a', data: 'first' };
const b: RawEntry = { name: 'b', data: 'second' };
const GOOD = rawZip([a, b]);

test('the archive that the faults are made of is in order', () => {
  expect(readDirectory(GOOD, DEFAULT_LIMITS).map(({ name }) => name)).toEqual(['a', 'b']);
});

describe('no ZIP at all', () => {
  test.each([
    ['nothing', Buffer.alloc(0)],
    ['a byte', Buffer.from('P')],
    ['two letters', Buffer.from('PK')],
    ['21 bytes, one too few for any archive', Buffer.alloc(21)],
    ['zeros', Buffer.alloc(4096)],
    ['a text', Buffer.from('This is a letter, not an archive. '.repeat(20))],
    ['a document', Buffer.from('<?xml version="1.0"?><KNX xmlns="http://knx.org/xml/project/23"/>')],
    ['another kind of archive', Buffer.from('1f8b0800000000000003cb48cdc9c95728cf2fca490100', 'hex')],
    ['a word that begins like an archive', Buffer.from('PKZIP is no project')],
  ])('%s', async (_name, file) => {
    expect(await refusal(file)).toMatchObject({ code: 'not-a-zip', status: 415 });
  });
});

describe('cut off', () => {
  test('at any byte', async () => {
    for (let length = 0; length < GOOD.length; length++) {
      const expected = length < 4 ? 'not-a-zip' : 'archive-cut-off'; // four bytes tell that it was an archive
      expect([length, (await refusal(GOOD.subarray(0, length))).code]).toEqual([length, expected]);
    }
  });

  test('at any byte, with an archive stored in it', async () => {
    const file = rawZip([{ name: 'inner.zip', stored: true, data: GOOD }]);
    const innerEnd = 39 + GOOD.length; // cut right here it is the inner archive with something in front of it
    for (let length = 4; length < file.length; length++) {
      if (length === innerEnd) continue;
      expect([length, (await refusal(file.subarray(0, length))).code]).toEqual([length, 'archive-cut-off']);
    }
  });

  test('in its comment', async () => {
    const file = rawZip([a], { comment: Buffer.from('a comment') });
    const { code, message } = await refusal(file.subarray(0, -3));
    expect([code, message]).toEqual([
      'archive-cut-off',
      'the archive is cut off: 3 bytes of its comment are missing; export the project again',
    ]);
  });

  test('in the comment of an empty archive', async () => {
    const file = endRecord(endFields(), Buffer.from('note')).subarray(0, 24);
    expect(await refusal(file)).toMatchObject({ code: 'archive-cut-off', status: 422 });
  });
});

describe('bytes that belong to nothing', () => {
  const junk = Buffer.from('junk');

  test.each([
    ['behind the end', Buffer.concat([GOOD, junk]), 'behind the end of the archive stand 4 bytes'],
    ['one byte behind the end', Buffer.concat([GOOD, Buffer.alloc(1)]), 'behind the end of the archive stands 1 byte'],
    ['behind a comment', rawZip([a], { comment: junk, trailing: junk }), 'behind the end of the archive stand 4 bytes'],
    ['behind zip64 records', rawZip([a], { zip64: {}, trailing: junk }), 'behind the end of the archive stand 4 bytes'],
    ['behind an empty archive', rawZip([], { trailing: junk }), 'behind the end of the archive stand 4 bytes'],
    ['before the archive', Buffer.concat([junk, GOOD]), 'before the archive stand 4 bytes'],
    ['before a zip64 archive', Buffer.concat([junk, rawZip([a], { zip64: {} })]), 'before the archive stand 4 bytes'],
    ['a whole archive before the archive', Buffer.concat([rawZip([b]), rawZip([a])]), 'before the archive stand'],
    ['before the first entry', rawZip([{ ...a, before: junk }, b]), '"a": 4 bytes before the entry'],
    ['between two entries', rawZip([a, { ...b, before: junk }]), '"b": 4 bytes before the entry'],
    [
      'behind a descriptor',
      rawZip([
        { ...a, descriptor: true },
        { ...b, before: junk },
      ]),
      '"b": 4 bytes',
    ],
    ['before the directory', beforeDirectory(junk), '4 bytes before the directory'],
    ['behind the directory', behindDirectory(junk), 'between the directory and the end record stand 4 bytes'],
  ])('%s', async (_name, file, says) => {
    const { code, status, message } = await refusal(file);
    expect([code, status]).toEqual(['archive-gap', 422]);
    expect(message).toContain(says);
    expect(message).toMatch(/belongs? to nothing; export the project again$/);
  });
});

describe('a second end record', () => {
  const second = endRecord(endFields(), Buffer.alloc(0));

  test.each([
    ['in the comment, to its end', { comment: second }],
    ['in the comment, with more behind it', { comment: Buffer.concat([second, Buffer.from('more')]) }],
    ['in the comment, cut', { comment: second.subarray(0, 8) }],
    ['of zip64 in the comment', { comment: zip64End(endFields(), 0) }],
    ['its zip64 locator in the comment', { comment: zip64End(endFields(), 0).subarray(-20) }],
  ])('%s', async (_name, options) => {
    expect(await refusal(rawZip([a, b], options))).toMatchObject({ code: 'ambiguous-directory', status: 422 });
  });

  test('in a part, with a comment that reaches to the end of the file', async () => {
    const inner = (rest: number) => {
      const end = endRecord(endFields(), Buffer.alloc(0));
      end.writeUInt16LE(rest, 20);
      return rawZip([{ name: 'a', stored: true, data: end }]);
    };
    const file = inner(inner(0).length - 31 - 22); // behind the local header and the end record itself
    expect((await refusal(file)).code).toBe('ambiguous-directory');
    expect(readDirectory(inner(0), DEFAULT_LIMITS)).toHaveLength(1);
  });
});

describe('an end record that lies', () => {
  const lie = (name: string, code: InputFault, end: Partial<EndFields>) => [name, code, end] as const;

  test.each([
    lie('one entry too many', 'directory-contradictory', { entries: 3, entriesHere: 3 }),
    lie('one entry too few', 'directory-contradictory', { entries: 1, entriesHere: 1 }),
    lie('no entries', 'directory-contradictory', { entries: 0, entriesHere: 0 }),
    lie('two counts', 'directory-contradictory', { entriesHere: 1 }),
    lie('a directory that starts too early', 'directory-misplaced', { directoryOffset: 0 }),
    lie('a directory that starts too late', 'directory-misplaced', { directoryOffset: GOOD.length }),
    lie('a directory that is too short', 'archive-gap', { directoryBytes: 47 }),
    lie('a directory that is too long', 'directory-misplaced', { directoryBytes: FULL32 }),
    lie('no directory', 'directory-misplaced', { directoryBytes: 0 }),
    lie('a second volume', 'archive-split', { disk: 1 }),
    lie('values for a zip64 record that is not there', 'archive-split', { disk: FULL16 }),
  ])('%s', async (_name, code, end) => {
    expect(await refusal(rawZip([a, b], { end }))).toMatchObject({ code, status: 422 });
  });

  const lie64 = (name: string, code: InputFault, zip64: NonNullable<RawZipOptions['zip64']>) =>
    [name, code, zip64] as const;

  test.each([
    lie64('two counts', 'directory-contradictory', { entriesHere: 1 }),
    lie64('a wrong count', 'directory-contradictory', { entriesHere: 9, entries: 9 }),
    lie64('a wrong place of the directory', 'directory-misplaced', { directoryOffset: 1 }),
    lie64('a size beyond any file', 'directory-misplaced', { directoryBytes: 2 ** 63 }),
    lie64('a record that is not where the locator says', 'directory-misplaced', { at: 0 }),
    lie64('a record beyond any file', 'directory-misplaced', { at: 2 ** 63 }),
    lie64('a record that ends too early', 'directory-contradictory', { recordBytes: 43n }),
    lie64('a record with room for more data', 'directory-contradictory', { recordBytes: 45n }),
    lie64('a record of negative length', 'directory-contradictory', { recordBytes: -6n }),
    lie64('a second volume', 'archive-split', { disk: 1 }),
    lie64('a locator that leads to another volume', 'archive-split', { locatorDisk: 1 }),
    lie64('an encrypted directory', 'protected-project', { recordBytes: 72n, version: 62 }),
  ])('zip64: %s', async (_name, code, zip64) => {
    const full = {
      disk: FULL16,
      entries: FULL16,
      entriesHere: FULL16,
      directoryBytes: FULL32,
      directoryOffset: FULL32,
    };
    expect(await refusal(rawZip([a, b], { zip64, end: full }))).toMatchObject({ code, status: 422 });
  });

  test.each([{ disk: 1 }, { entries: 1 }, { entriesHere: 1 }, { directoryBytes: 47 }, { directoryOffset: 1 }])(
    'zip64: a value that the end record gives otherwise, %o',
    async (end) => {
      const { code, message } = await refusal(rawZip([a, b], { zip64: {}, end }));
      expect(code).toBe('directory-contradictory');
      expect(message).toContain('the end record and the zip64 end record contradict each other');
    },
  );

  test('zip64: a locator without its record', async () => {
    const locator = Buffer.concat([uint32s(0x07064b50, 0), uint64s(0), uint32s(1)]);
    const end = endRecord({ ...endFields(), entries: 0xffff, entriesHere: 0xffff }, Buffer.alloc(0));
    expect((await refusal(Buffer.concat([locator, end]))).code).toBe('directory-misplaced');
  });

  test('the first of several volumes', async () => {
    const file = Buffer.concat([uint32s(0x08074b50), GOOD.subarray(0, 60)]);
    const { code, message } = await refusal(file);
    expect([code, message]).toEqual([
      'archive-split',
      'the archive is one of several volumes; join them to a single file, or export the project again',
    ]);
  });
});

describe('an entry that lies', () => {
  const lie = (name: string, code: InputFault, entry: RawEntry) => [name, code, entry] as const;
  const header = (name: string, entry: Partial<RawEntry>) => lie(name, 'entry-contradictory', { ...a, ...entry });
  const { crc, packedBytes, bytes } = figuresOf(a);

  test.each([
    header('another name before the data', { local: { name: Buffer.from('x') } }),
    header('a longer name before the data', { local: { name: Buffer.from('aa') } }),
    header('a name that runs over the directory', { local: { name: Buffer.alloc(1000) } }),
    header('another method before the data', { local: { method: 0 } }),
    header('other flags before the data', { local: { flags: 0 } }),
    header('a cipher before the data alone', { local: { flags: 0x0801 } }),
    header('another checksum before the data', { local: { crc: 1 } }),
    header('another packed size before the data', { local: { packedBytes: 1 } }),
    header('another size before the data', { local: { bytes: 1 } }),
    header('full sizes before the data, and no zip64 field', { local: { bytes: FULL32, packedBytes: FULL32 } }),
    header('another zip64 size before the data', { local: { bytes: FULL32, extra: extraField(1, uint64s(6)) } }),
    header('a zip64 size before the data that is cut off', { local: { bytes: FULL32, extra: extraField(1) } }),
    header('blanks before the data, and no descriptor behind', { local: { crc: 0, packedBytes: 0, bytes: 0 } }),
    header('a descriptor that is announced and not there', { descriptor: Buffer.alloc(0) }),
    header('a descriptor with another checksum', { descriptor: descriptor({ crc: 1, packedBytes, bytes }) }),
    header('a descriptor with another packed size', { descriptor: descriptor({ crc, packedBytes: 1, bytes }) }),
    header('a descriptor with another size', { descriptor: descriptor({ crc, packedBytes, bytes: 1 }) }),
    header('a descriptor that is cut', { descriptor: descriptor({ crc, packedBytes, bytes }).subarray(0, 15) }),
    header('an extra field that is cut off', { central: { extra: uint16s(0x5455, 9) } }),
    header('an extra field before the data that is cut off', { local: { extra: uint16s(0x5455, 9) } }),
    header('the zip64 field twice', { fields: { extra: Buffer.concat([extraField(1), extraField(1)]) } }),
    header('the unicode path twice', { fields: { extra: Buffer.concat([extraField(0x7075), extraField(0x7075)]) } }),
    header('zip64 sizes that are cut off', {
      central: { bytes: FULL32, packedBytes: FULL32, extra: extraField(1, uint64s(5)) },
    }),
    lie('a place where no entry is', 'entry-misplaced', { ...a, central: { offset: 1 } }),
    lie('a place beyond the file', 'entry-misplaced', { ...a, central: { offset: 0x7fffffff } }),
    lie('a zip64 place beyond any file', 'entry-misplaced', {
      ...a,
      central: { offset: FULL32, extra: extraField(1, uint64s(2n ** 63n)) },
    }),
    lie('data that runs into the directory', 'entries-overlap', { ...a, fields: { packedBytes: 1000 } }),
    lie('a zip64 packed size beyond any file', 'entries-overlap', {
      ...a,
      fields: { packedBytes: FULL32, extra: extraField(1, uint64s(2n ** 63n)) },
    }),
    lie('a start in another volume', 'archive-split', { ...a, central: { disk: 1 } }),
    lie('a start in another volume, by zip64', 'archive-split', {
      ...a,
      central: { disk: FULL16, extra: extraField(1, uint32s(1)) },
    }),
    lie('a method that nobody reads', 'unsupported-packing', { ...a, fields: { method: 12 } }),
    lie('a method that is reserved', 'unsupported-packing', { ...a, fields: { method: 0xffff } }),
    lie('a version that is not known', 'unsupported-packing', { ...a, central: { version: 64 } }),
    lie('a patch', 'unsupported-packing', { ...a, fields: { flags: 0x0820 } }),
    lie('a stored size too low', 'size-mismatch', { ...a, stored: true, fields: { bytes: 4 } }),
    lie('a stored size too high', 'size-mismatch', { ...a, stored: true, fields: { bytes: 6 } }),
  ])('%s', async (_name, code, entry) => {
    expect(await refusal(rawZip([entry]))).toMatchObject({ code, status: 422, place: { part: 'a' } });
  });

  test('a zip64 size beyond any file', async () => {
    const wide = { bytes: FULL32, extra: extraField(1, uint64s(2n ** 63n)) };
    const refused = await refusal(rawZip([{ ...a, fields: wide }]));
    expect(refused).toMatchObject({ code: 'limit-exceeded', status: 413, place: { part: 'a' } });
    expect(refused.message).toContain('declaredBytes');
  });

  test.each([
    ['stored', { stored: true, data: 'x' }],
    ['deflated', { data: 'x' }],
    ['packed, of no size', { data: '', packed: Buffer.alloc(3) }],
  ])('a folder with data, %s', async (_name, entry) => {
    const refused = await refusal(rawZip([{ name: 'a/', ...entry }]));
    expect(refused).toMatchObject({ code: 'entry-contradictory', place: { part: 'a/' } });
    expect(refused.message).toContain('is a folder and holds data');
  });

  test('two entries over the same data', async () => {
    const other: RawEntry = { ...b, central: { offset: 0 } };
    expect(await refusal(rawZip([a, other]))).toMatchObject({ code: 'entries-overlap', place: { part: 'b' } });
    const long: RawEntry = { ...a, fields: { packedBytes: 20 } }; // 20 bytes reach into the header of b
    expect(await refusal(rawZip([long, b]))).toMatchObject({ code: 'entries-overlap', place: { part: 'b' } });
    const inside: RawEntry = { name: 'a', stored: true, data: rawZip([b]) };
    const quoted: RawEntry = { ...b, central: { offset: 31 } };
    expect(await refusal(rawZip([inside, quoted]))).toMatchObject({ code: 'entries-overlap', place: { part: 'b' } });
  });

  test('the method that is not read is named', async () => {
    const { message } = await refusal(rawZip([{ ...a, fields: { method: 14 } }]));
    expect(message).toContain('method 14');
  });

  test('something else between the entries of the directory', async () => {
    const file = Buffer.from(GOOD);
    file.write('XX', file.lastIndexOf('PK\u0001\u0002'));
    expect((await refusal(file)).code).toBe('directory-contradictory');
  });

  test('a header of the directory that runs over its end', async () => {
    const file = Buffer.from(GOOD);
    file.writeUInt16LE(9, file.lastIndexOf('PK\u0001\u0002') + 32); // the length of its comment
    expect((await refusal(file)).code).toBe('directory-contradictory');
  });
});

test('the keys of an encrypted directory in front of it mean a protected project', async () => {
  const file = Buffer.from(GOOD);
  file.writeUInt32LE(0x08064b50, file.indexOf('PK\u0001\u0002'));
  expect((await refusal(file)).code).toBe('protected-project');
});

test.each([
  ['the usual cipher', 0x0001],
  ['a strong cipher', 0x0041],
  ['a strong cipher, its flag alone', 0x0040],
  ['a masked directory', 0x2000],
])('an encrypted entry means a protected project: %s', async (_name, flags) => {
  expect(await refusal(rawZip([a, { ...b, fields: { flags } }]))).toMatchObject({
    code: 'protected-project',
    place: { part: 'b' },
  });
});

describe('data that is not as declared', () => {
  const text = 'The quick brown fox jumps over the lazy dog. '.repeat(9); // 405 bytes
  const packed = rawZip([{ name: 'a', data: text }]).subarray(31); // the deflated data, with what follows
  const packedBytes = rawZip([{ name: 'a', data: text }]).readUInt32LE(18);
  const stored = { stored: true, data: text };
  const fault = (name: string, code: InputFault, entry: Omit<RawEntry, 'name'>) => [name, code, entry] as const;

  test.each([
    fault('a wrong checksum', 'checksum-mismatch', { data: text, fields: { crc: 1 } }),
    fault('a wrong checksum, stored', 'checksum-mismatch', { ...stored, fields: { crc: 1 } }),
    fault('a size one too low', 'size-mismatch', { data: text, fields: { bytes: 404 } }),
    fault('a size one too high', 'size-mismatch', { data: text, fields: { bytes: 406 } }),
    fault('a size of none', 'size-mismatch', { data: text, fields: { bytes: 0 } }),
    fault('a size of 4 GiB', 'limit-exceeded', { data: text, fields: { bytes: 0xfffffffe } }),
    fault('a deflate stream that is none', 'inflate-failed', { data: text, packed: Buffer.alloc(packedBytes, 7) }),
    fault('a deflate stream that is cut', 'inflate-failed', {
      data: text,
      packed: packed.subarray(0, packedBytes - 4),
    }),
    fault('something behind the deflate stream', 'size-mismatch', {
      data: text,
      packed: Buffer.concat([packed.subarray(0, packedBytes), Buffer.from('more')]),
    }),
    fault('no deflate stream', 'inflate-failed', { data: text, packed: Buffer.alloc(0) }),
  ])('%s', async (_name, code, entry) => {
    const archive = Archive.open(
      rawZip([
        { name: 'x', data: text },
        { name: 'a', ...entry },
      ]),
      DEFAULT_LIMITS,
    );
    const [sound, part] = archive.parts;
    if (sound === undefined || part === undefined) throw new Error('two parts were written');
    expect(await refusalOf(() => contentOf(archive, part))).toMatchObject({ code, place: { part: 'a' } });
    expect((await contentOf(archive, sound)).toString()).toBe(text);
    expect(archive.partsRead.map(({ name }) => name)).toEqual(['x']);
  });
});

/** The good archive with something between its last entry and its directory. */
function beforeDirectory(more: Buffer): Buffer {
  const at = GOOD.indexOf('PK\u0001\u0002');
  const end = Buffer.from(GOOD.subarray(-22));
  end.writeUInt32LE(at + more.length, 16);
  return Buffer.concat([GOOD.subarray(0, at), more, GOOD.subarray(at, -22), end]);
}

function behindDirectory(more: Buffer): Buffer {
  return Buffer.concat([GOOD.subarray(0, -22), more, GOOD.subarray(-22)]);
}

/** What a descriptor says of an entry. */
function figuresOf(entry: RawEntry) {
  const header = rawZip([entry]);
  return { crc: header.readUInt32LE(14), packedBytes: header.readUInt32LE(18), bytes: header.readUInt32LE(22) };
}

function endFields() {
  return { disk: 0, entries: 0, entriesHere: 0, directoryBytes: 0, directoryOffset: 0 };
}
