import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { crc32 } from 'node:zlib';
import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { InputError } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { contentOf } from '../support/archives.js';
import {
  endRecord,
  extraField,
  FULL16,
  FULL32,
  type RawEntry,
  rawZip,
  uint16s,
  uint32s,
  uint64s,
  zip64End,
} from '../support/raw-zip.js';

/**
 * Archives that the structural check and the library which inflates could read differently: then the check would have
 * looked at other bytes than those that are used. Each is either refused when it is opened, or every part has its own
 * data; found, and then unreadable or something else, is neither.
 */
const entry = (name: string, data: string): RawEntry => ({ name, data });

/** Headers, data and directory of an archive of one entry `a`, without its end record. */
const hidden = rawZip([entry('a', 'HIDDEN!')]).subarray(0, -22);
const hiddenDirectoryAt = hidden.indexOf(uint32s(0x02014b50));

/** The first entry of a sound archive; before it stands something that no directory names. */
const withHidden = { ...entry('a', 'visible'), before: hidden };

async function expectOneReading(file: Buffer, expected: Readonly<Record<string, string>>): Promise<void> {
  let archive: Archive;
  try {
    archive = Archive.open(file, DEFAULT_LIMITS);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return;
  }
  const found: Record<string, string> = {};
  for (const part of archive.parts) {
    found[part.name] = await contentOf(archive, part).then(String, (error: Error) => `${error}`);
  }
  expect(found).toEqual(expected);
}

test('a second end record in the comment does not lead to another directory', async () => {
  const directoryBytes = rawZip([withHidden]).length - hiddenDirectoryAt; // up to the second end record
  const end = { disk: 0, entriesHere: 1, entries: 1, directoryBytes, directoryOffset: hiddenDirectoryAt };
  const comment = Buffer.concat([endRecord(end, Buffer.alloc(0)), Buffer.from('more')]);
  await expectOneReading(rawZip([withHidden], { comment }), { a: 'visible' });
});

test('an end record beside a zip64 end record does not lead to another directory', async () => {
  const directoryBytes = rawZip([withHidden], { zip64: {} }).length - 22 - hiddenDirectoryAt; // up to the end record
  const end = { directoryBytes, directoryOffset: hiddenDirectoryAt };
  await expectOneReading(rawZip([withHidden], { zip64: {}, end }), { a: 'visible' });
});

test('a second zip64 field of an entry does not lead to other data', async () => {
  const first = entry('a', 'first!!');
  const secondAt = rawZip([first]).indexOf(uint32s(0x02014b50)); // right behind the first entry
  const extra = Buffer.concat([extraField(1, uint64s(secondAt)), extraField(1, uint64s(0))]);
  const second: RawEntry = { ...entry('b', 'second!'), central: { offset: FULL32, extra } };
  await expectOneReading(rawZip([first, second]), { a: 'first!!', b: 'second!' });
});

test('a second unicode path of an entry does not give it the name of another', async () => {
  const path = (crcOf: string, name: string) =>
    extraField(0x7075, Buffer.from([1]), uint32s(crc32(Buffer.from(crcOf))), Buffer.from(name));
  const extra = Buffer.concat([path('stale', 'x'), path('b', 'a')]);
  const second: RawEntry = { ...entry('b', 'second!'), fields: { flags: 0 }, central: { extra } };
  await expectOneReading(rawZip([entry('a', 'first!!'), second]), { a: 'first!!', b: 'second!' });
});

test.each([
  ['P-0001/0.xml', 'x/../P-0001/0.xml'],
  ['P-0001/0.xml', 'P-0001/./0.xml'],
  ['P-0001/0.xml', 'P-0001//0.xml'],
])('%s and %s are not taken for each other', async (first, second) => {
  // "plumless" and "buckeroo" are the classic pair of texts of one CRC-32, so no checksum tells them apart
  expect(crc32(Buffer.from('plumless'))).toBe(crc32(Buffer.from('buckeroo')));
  const file = rawZip([entry(first, 'plumless'), entry(second, 'buckeroo')]);
  await expectOneReading(file, { [first]: 'plumless', [second]: 'buckeroo' });
});

test.each(['./P-0001/0.xml', 'Export/./P-0001/0.xml', 'Export//P-0001/0.xml', '/P-0001/0.xml', '../P-0001/0.xml'])(
  'a part by the name %s can be read if it is found',
  (name) => expectOneReading(rawZip([entry(name, 'text')]), { [name]: 'text' }),
);

test('a file with the mark of a directory is not found and then unreadable', () =>
  expectOneReading(rawZip([{ ...entry('a', 'text'), central: { attributes: 0x10 } }]), { a: 'text' }));

test('an archive that makes the library loop for ever does not get there', () => {
  // The zip64 record of issue 633 of the library stands in front of the first entry, and a second locator, in the
  // comment, leads to it. The locator that the check looks at leads to a sound record.
  const end = { disk: 0, entriesHere: 1, entries: 1, directoryBytes: 0, directoryOffset: 0 };
  const record = Buffer.concat([
    zip64End(end, 0, { recordBytes: 50n }).subarray(0, 56),
    uint16s(1),
    uint32s(0xfffffffa),
  ]);
  const locator = Buffer.concat([uint32s(0x07064b50, 0), uint64s(0), uint32s(1)]);
  const file = rawZip([{ ...entry('a', 'x'), before: record }], {
    zip64: {},
    end: { entries: FULL16, entriesHere: FULL16 },
    comment: locator,
  });
  const built = fileURLToPath(new URL('../../dist/', import.meta.url));
  const program = `
    import { Archive } from ${JSON.stringify(`${built}archive/archive.js`)};
    import { DEFAULT_LIMITS } from ${JSON.stringify(`${built}limits.js`)};
    const file = Buffer.from('${file.toString('base64')}', 'base64');
    try {
      Archive.open(file, DEFAULT_LIMITS);
    } catch ({ code }) {
      if (code === undefined) throw new Error('no input error');
    }
    console.log('ended');
  `;
  // In a process of its own, which can be ended; it is given far more than it needs.
  const { stdout, signal } = spawnSync(process.execPath, ['--input-type=module', '-e', program], { timeout: 10_000 });
  expect({ signal, answer: stdout.toString().trim() }).toEqual({ signal: null, answer: 'ended' });
});
