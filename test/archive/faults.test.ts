import { crc32 } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { readDirectory } from '../../src/archive/directory.js';
import type { InputFault } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { endRecord, extraField, FULL32, type RawEntry, rawZip, uint16s, uint32s, uint64s } from '../support/raw-zip.js';
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
    ['an end record whose comment runs over the end', endRecord(endFields(), Buffer.from('note')).subarray(0, 24)],
  ])('%s', async (_name, file) => {
    expect(await refusal(file)).toMatchObject({ code: 'not-a-zip', status: 415 });
  });
});

describe('cut off', () => {
  test('at any byte', async () => {
    for (let length = 0; length < GOOD.length; length++) {
      const expected = length < 4 ? 'not-a-zip' : 'damaged-archive'; // four bytes tell that it was an archive
      expect([length, (await refusal(GOOD.subarray(0, length))).code]).toEqual([length, expected]);
    }
  });

  test('with something behind the end', async () => {
    expect(await refusal(Buffer.concat([GOOD, Buffer.from('x')]))).toMatchObject({ code: 'damaged-archive' });
  });
});

describe('an end record that lies', () => {
  test.each([
    ['one entry too many', { entries: 3, entriesHere: 3 }],
    ['one entry too few', { entries: 1, entriesHere: 1 }],
    ['no entries', { entries: 0, entriesHere: 0 }],
    ['two counts', { entriesHere: 1 }],
    ['a directory that starts too early', { directoryOffset: 0 }],
    ['a directory that starts too late', { directoryOffset: GOOD.length }],
    ['a directory that is too short', { directoryBytes: 47 }],
    ['a directory that is too long', { directoryBytes: FULL32 }],
    ['a second volume', { disk: 1 }],
  ])('%s', async (_name, end) => {
    expect(await refusal(rawZip([a, b], { end }))).toMatchObject({ code: 'damaged-archive', status: 422 });
  });

  test.each([
    ['two counts', { entriesHere: 1 }],
    ['a wrong count', { entriesHere: 9, entries: 9 }],
    ['a wrong place of the directory', { directoryOffset: 1 }],
    ['a size beyond any file', { directoryBytes: Number.MAX_SAFE_INTEGER + 1 }],
    ['a record that is not where the locator says', { at: 0 }],
    ['a record with room for more data', { recordBytes: 45n }],
    ['a record of negative length', { recordBytes: -6n }],
  ])('zip64: %s', async (_name, zip64) => {
    expect(await refusal(rawZip([a, b], { zip64 }))).toMatchObject({ code: 'damaged-archive' });
  });

  test('zip64: a locator without its record', async () => {
    const locator = Buffer.concat([uint32s(0x07064b50, 0), uint64s(0), uint32s(1)]);
    const end = endRecord({ ...endFields(), entries: 0xffff, entriesHere: 0xffff }, Buffer.alloc(0));
    expect(await refusal(Buffer.concat([locator, end]))).toMatchObject({ code: 'damaged-archive' });
  });
});

describe('an entry that lies', () => {
  const damaged = (name: string, entry: RawEntry) => [name, entry] as const;

  test.each([
    damaged('another name before the data', { ...a, local: { name: Buffer.from('x') } }),
    damaged('a longer name before the data', { ...a, local: { name: Buffer.from('aa') } }),
    damaged('another method before the data', { ...a, local: { method: 0 } }),
    damaged('other flags before the data', { ...a, local: { flags: 0 } }),
    damaged('another checksum before the data', { ...a, local: { crc: 1 } }),
    damaged('another packed size before the data', { ...a, local: { packedBytes: 1 } }),
    damaged('another size before the data', { ...a, local: { bytes: 1 } }),
    damaged('blanks before the data, and no descriptor behind', { ...a, local: { crc: 0, packedBytes: 0, bytes: 0 } }),
    damaged('a place where no entry is', { ...a, central: { offset: 1 } }),
    damaged('a place beyond the file', { ...a, central: { offset: 0x7fffffff } }),
    damaged('data that runs into the directory', { ...a, fields: { packedBytes: 1000 } }),
    damaged('an extra field that is cut off', { ...a, central: { extra: uint16s(0x5455, 9) } }),
    damaged('zip64 sizes that are cut off', {
      ...a,
      central: { bytes: FULL32, packedBytes: FULL32, extra: extraField(1, uint64s(5)) },
    }),
    damaged('a method that nobody reads', { ...a, fields: { method: 12 } }),
    damaged('a method that is reserved', { ...a, fields: { method: 0xffff } }),
  ])('%s', async (_name, entry) => {
    expect(await refusal(rawZip([entry]))).toMatchObject({ code: 'damaged-archive', place: { part: 'a' } });
  });

  test('a zip64 size beyond any file', async () => {
    const central = { bytes: FULL32, extra: extraField(1, uint64s(2n ** 63n)) };
    expect((await refusal(rawZip([{ ...a, central }]))).code).toBe('damaged-archive');
  });

  test('two entries over the same data', async () => {
    const twin: RawEntry = { ...a, central: { name: Buffer.from('c'), offset: 0 }, local: { name: Buffer.from('c') } };
    expect((await refusal(rawZip([a, twin]))).code).toBe('damaged-archive');
    const long: RawEntry = { ...a, fields: { packedBytes: 20 } }; // 20 bytes reach into the header of b
    expect((await refusal(rawZip([long, b]))).code).toBe('damaged-archive');
    const inside: RawEntry = { name: 'a', stored: true, packed: rawZip([b]), fields: { bytes: 1 } };
    const quoted: RawEntry = { ...b, central: { offset: 31 } };
    expect(await refusal(rawZip([inside, quoted]))).toMatchObject({ code: 'damaged-archive', place: { part: 'b' } });
  });

  test('the method that is not read is named', async () => {
    const { message } = await refusal(rawZip([{ ...a, fields: { method: 14 } }]));
    expect(message).toContain('method 14');
  });

  test('something else between the entries of the directory', async () => {
    const file = Buffer.from(GOOD);
    file.write('XX', file.lastIndexOf('PK\u0001\u0002'));
    expect((await refusal(file)).code).toBe('damaged-archive');
  });
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

describe('a name twice', () => {
  test.each([
    ['the same', 'P-0001/0.xml', 'P-0001/0.xml'],
    ['other letters', 'P-00ab/0.xml', 'p-00AB/0.XML'],
    ['other slashes', 'P-0001/0.xml', 'P-0001\\0.xml'],
    ['composed and not', 'b\u00fcro.xml', 'bu\u0308ro.xml'],
    ['from here', 'a', './a'],
    ['from the root', 'a', '/a'],
    ['a folder', 'P-0001/', 'p-0001\\'],
  ])('%s', async (_name, first, second) => {
    const file = rawZip([
      { name: first, data: '1' },
      { name: second, data: '2' },
    ]);
    expect(await refusal(file)).toMatchObject({ code: 'ambiguous-part', place: { part: second } });
  });

  test('a unicode path that differs from the name', async () => {
    const path = extraField(0x7075, Buffer.from([1]), uint32s(crc32(Buffer.from('a'))), Buffer.from('other'));
    expect(await refusal(rawZip([{ ...a, central: { extra: path } }]))).toMatchObject({
      code: 'ambiguous-part',
      place: { part: 'a' },
    });
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
    fault('a size one too low', 'damaged-archive', { data: text, fields: { bytes: 404 } }),
    fault('a size one too high', 'damaged-archive', { data: text, fields: { bytes: 406 } }),
    fault('a size too low, stored', 'damaged-archive', { ...stored, fields: { bytes: 404 } }),
    fault('a size too high, stored', 'damaged-archive', { ...stored, fields: { bytes: 406 } }),
    fault('a size of 4 GiB', 'damaged-archive', { data: text, fields: { bytes: 0xfffffffe } }),
    fault('a deflate stream that is none', 'damaged-archive', { data: text, packed: Buffer.alloc(packedBytes, 7) }),
    fault('a deflate stream that is cut', 'damaged-archive', {
      data: text,
      packed: packed.subarray(0, packedBytes - 4),
    }),
    fault('something behind the deflate stream', 'damaged-archive', {
      data: text,
      packed: Buffer.concat([packed.subarray(0, packedBytes), Buffer.from('more')]),
    }),
    fault('no deflate stream', 'damaged-archive', { data: text, packed: Buffer.alloc(0) }),
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
    expect(await refusalOf(() => archive.read(part))).toMatchObject({ code, place: { part: 'a' } });
    expect((await archive.read(sound)).toString()).toBe(text);
    expect(archive.partsRead.map(({ name }) => name)).toEqual(['x']);
  });

  test('a declared size of 0 does not make a part empty', async () => {
    const archive = Archive.open(rawZip([{ name: 'a', data: text, fields: { bytes: 0 } }]), DEFAULT_LIMITS);
    const [part] = archive.parts;
    if (part === undefined) throw new Error('a part was written');
    expect(['damaged-archive', 'checksum-mismatch']).toContain((await refusalOf(() => archive.read(part))).code);
  });
});

function endFields() {
  return { disk: 0, entries: 0, entriesHere: 0, directoryBytes: 0, directoryOffset: 0 };
}
