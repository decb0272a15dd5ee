import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import type { InputFault } from '../../src/errors.js';
import { needsPython } from '../support/python.js';
import {
  descriptor,
  extraField,
  FULL32,
  type RawEntry,
  type RawZipOptions,
  rawZip,
  uint16s,
  uint64s,
} from '../support/raw-zip.js';
import { readByPython, readHere } from '../support/zip-reader.js';

/**
 * The archives that other libraries hold themselves against.
 *
 * Those of JSZip are the files themselves: release 2.0.0 (MIT) is the last whose package carries its `test/ref`, written
 * by many packers. Current packages of yauzl, yazl, adm-zip, unzipper, node-stream-zip, fflate and zip.js carry none, so
 * the shapes that yauzl's list of failures (MIT) and libzip's `regress` folder (BSD-3-Clause) name are built anew here,
 * each under the name it has there.
 */
const require = createRequire(import.meta.url);
const JSZIP = join(dirname(require.resolve('jszip-archives/package.json')), 'test/ref');

/** What is refused of JSZip's archives, and why; all others are read. */
const REFUSED: Readonly<Record<string, InputFault>> = {
  'encrypted.zip': 'protected-project',
  'invalid/bad_offset.zip': 'entry-misplaced',
  'invalid/compression.zip': 'unsupported-packing',
  'invalid/crc32.zip': 'checksum-mismatch',
  // Another slash in the name before the data than in the directory. JSZip and others read it; it is one of two names.
  'slashes_and_izarc.zip': 'entry-contradictory',
};

const names = (readdirSync(JSZIP, { recursive: true }) as string[]).filter((name) => name.endsWith('.zip')).sort();

describe('the archives of JSZip', () => {
  test('are there', () => {
    expect(names).toHaveLength(24);
    expect(names).toEqual(expect.arrayContaining(Object.keys(REFUSED)));
  });

  test.each(names)('%s', async (name) => {
    const file = readFileSync(join(JSZIP, name));
    const here = await readHere(file);
    expect(typeof here === 'string' ? here : 'read').toBe(REFUSED[name] ?? 'read');
  });

  test('are read as Python reads them', async (context) => {
    needsPython(context);
    const read = names.filter((name) => REFUSED[name] === undefined);
    const files = read.map((name) => readFileSync(join(JSZIP, name)));
    const byPython = readByPython(files);
    for (const [index, file] of files.entries()) {
      expect([read[index], await readHere(file)]).toEqual([read[index], byPython[index]]);
    }
  });
});

const DATA = Buffer.from('test'.repeat(10));
const PACKED = deflateRawSync(DATA).length;
const entry: RawEntry = { name: 'test', data: DATA };
const more: RawEntry = { name: 'test2', data: DATA };
const FIGURES = { crc: 1, packedBytes: PACKED, bytes: DATA.length };

type Shape = readonly [name: string, code: InputFault, file: Buffer];

const one = (name: string, code: InputFault, change: Partial<RawEntry>): Shape => [
  name,
  code,
  rawZip([{ ...entry, ...change }, more]),
];
const whole = (name: string, code: InputFault, options: RawZipOptions): Shape => [
  name,
  code,
  rawZip([entry, more], options),
];

/** A sound archive in which another four bytes stand in the place of a signature. */
function without(signature: string): Buffer {
  const file = rawZip([entry, more]);
  file.write('PK\u0003\u0003', file.indexOf(signature), 'latin1');
  return file;
}

/** A sound archive of which the length of a field is another by as much. */
function lengthened(signature: string, at: number, by: number): Buffer {
  const file = rawZip([{ ...entry, central: { comment: Buffer.from('comment') } }, more], {
    comment: Buffer.from('end'),
  });
  const place = file.indexOf(signature) + at;
  file.writeUInt16LE(file.readUInt16LE(place) + by, place);
  return file;
}

const LOCAL = 'PK\u0003\u0004';
const CENTRAL = 'PK\u0001\u0002';
const END = 'PK\u0005\u0006';

const LIBZIP: readonly Shape[] = [
  ['incons-archive-comment-longer', 'archive-cut-off', lengthened(END, 20, 1)],
  ['incons-archive-comment-shorter', 'archive-gap', lengthened(END, 20, -1)],
  whole('incons-cdoffset', 'directory-misplaced', { end: { directoryOffset: 1 } }),
  whole('incons-cdsize-large', 'directory-misplaced', { end: { directoryBytes: 1000 } }),
  whole('incons-cdsize-small', 'archive-gap', { end: { directoryBytes: 50 } }),
  one('incons-central-compsize-larger', 'entry-contradictory', { central: { packedBytes: PACKED + 1 } }),
  one('incons-central-compsize-larger-toolarge', 'entry-contradictory', { central: { packedBytes: 10_000 } }),
  one('incons-central-compsize-smaller', 'entry-contradictory', { central: { packedBytes: PACKED - 1 } }),
  one('incons-central-crc', 'entry-contradictory', { central: { crc: 1 } }),
  ['incons-central-file-comment-longer', 'directory-contradictory', lengthened(CENTRAL, 32, 1)],
  ['incons-central-file-comment-shorter', 'directory-contradictory', lengthened(CENTRAL, 32, -1)],
  ['incons-central-magic-bad', 'directory-contradictory', without(CENTRAL)],
  one('incons-central-size-larger', 'entry-contradictory', { central: { bytes: DATA.length + 1 } }),
  one('incons-data', 'inflate-failed', { packed: Buffer.alloc(PACKED, 7) }),
  one('incons-ef-central-size-wrong', 'entry-contradictory', { central: { extra: uint16s(0x7075, 9, 0) } }),
  one('incons-ef-local-size-wrong', 'entry-contradictory', { local: { extra: uint16s(0x7075, 9, 0) } }),
  ['incons-eocd-magic-bad', 'archive-cut-off', without(END)],
  whole('incons-file-count-high', 'directory-contradictory', { end: { entries: 3, entriesHere: 3 } }),
  whole('incons-file-count-low', 'directory-contradictory', { end: { entries: 1, entriesHere: 1 } }),
  whole('incons-file-count-overflow', 'limit-exceeded', { end: { entries: 65_535, entriesHere: 65_535 } }),
  one('incons-gap-before-local', 'archive-gap', { before: Buffer.from('gap') }),
  one('incons-local-compmethod', 'entry-contradictory', { local: { method: 0 } }),
  one('incons-local-compsize-larger', 'entry-contradictory', { local: { packedBytes: PACKED + 1 } }),
  one('incons-local-compsize-smaller', 'entry-contradictory', { local: { packedBytes: PACKED - 1 } }),
  one('incons-local-crc', 'entry-contradictory', { local: { crc: 1 } }),
  one('incons-local-filename', 'entry-contradictory', { local: { name: Buffer.from('tost') } }),
  one('incons-local-filename-long', 'entry-contradictory', { local: { name: Buffer.from('testt') } }),
  one('incons-local-filename-missing', 'entry-contradictory', { local: { name: Buffer.alloc(0) } }),
  one('incons-local-filename-short', 'entry-contradictory', { local: { name: Buffer.from('tes') } }),
  ['incons-local-magic-bad', 'entry-misplaced', without(LOCAL)],
  one('incons-local-size-larger', 'entry-contradictory', { local: { bytes: DATA.length + 1 } }),
  one('incons-stored-size', 'size-mismatch', { stored: true, fields: { bytes: DATA.length + 1 } }),
  one('incons-streamed', 'entry-contradictory', { descriptor: descriptor(FIGURES) }),
  whole('incons-trailing-garbage', 'archive-gap', { trailing: Buffer.from('xxx') }),
  whole('multidisk', 'archive-split', { end: { disk: 1 } }),
  whole('incons64-eocd', 'directory-contradictory', { zip64: {}, end: { directoryBytes: 1 } }),
  one('zip64-local-size', 'entry-contradictory', {
    local: { bytes: FULL32, packedBytes: FULL32, extra: extraField(1, uint64s(1, 1)) },
  }),
];

const YAUZL: readonly Shape[] = [
  one('absolute path: /bb', 'unsafe-name', { name: '/bb' }),
  one('absolute path: C:x', 'unsafe-name', { name: 'C:x' }),
  one('invalid relative path: ../b', 'unsafe-name', { name: '../b' }),
  one('strong encryption is not supported', 'protected-project', { fields: { flags: 0x0041 } }),
  one('unsupported compression method: 1', 'unsupported-packing', { fields: { method: 1 } }),
  ['End of central directory record signature not found', 'not-a-zip', Buffer.alloc(100)],
  ['Invalid comment length. Expected: 1. Found: 0', 'archive-cut-off', lengthened(END, 20, 1)],
  one('compressed/uncompressed size mismatch for stored file', 'size-mismatch', {
    stored: true,
    fields: { bytes: 0x7fffffff },
  }),
  one('expected zip64 extended information extra field', 'entry-misplaced', { central: { offset: FULL32 } }),
  one('extra field length exceeds extra field buffer size', 'entry-contradictory', {
    central: { extra: uint16s(0x0001, 100) },
  }),
  one('file data overflows file bounds', 'entries-overlap', { fields: { packedBytes: 0x7fffffff } }),
  one('invalid code lengths set', 'inflate-failed', { packed: Buffer.alloc(PACKED, 0xfd) }),
  ['invalid central directory file header signature', 'directory-contradictory', without(CENTRAL)],
  ['invalid local file header signature', 'entry-misplaced', without(LOCAL)],
  whole('multi-disk zip files are not supported', 'archive-split', { end: { disk: 1 } }),
  one('too many bytes in the stream', 'size-mismatch', { fields: { bytes: DATA.length - 1 } }),
  one('not enough bytes in the stream', 'size-mismatch', { fields: { bytes: DATA.length + 1 } }),
  whole('zip64 end of central directory record signature not found', 'directory-misplaced', { zip64: { at: 0 } }),
];

test('the archive that the shapes are made of is read', async () => {
  const text = DATA.toString();
  expect(await readHere(rawZip([entry, more]))).toEqual([
    ['test', DATA.length, text],
    ['test2', DATA.length, text],
  ]);
});

test.each(LIBZIP)('libzip: %s is %s', async (_name, code, file) => expect(await readHere(file)).toBe(code));

test.each(YAUZL)('yauzl: %s is %s', async (_name, code, file) => expect(await readHere(file)).toBe(code));
