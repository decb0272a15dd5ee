import {
  descriptor,
  endRecord,
  extraField,
  FULL16,
  FULL32,
  rawZip,
  uint16s,
  uint32s,
  uint64s,
  zip64End,
} from '../../support/raw-zip.js';
import type { Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import { and, archive, balance, changed, HARDWARE, packed, SOUND, TOPOLOGY } from '../plant.js';

const NO_END = { disk: 0, entries: 0, entriesHere: 0, directoryBytes: 0, directoryOffset: 0 };
/** An end record that leaves everything to the zip64 record. */
const FULL = { disk: FULL16, entries: FULL16, entriesHere: FULL16, directoryBytes: FULL32, directoryOffset: FULL32 };
const junk = Buffer.from('junk');
const sound = archive();
const central = sound.indexOf('PK\u0001\u0002');

/** The archive, some of its bytes written over. */
function patched(at: number, bytes: Uint8Array): Buffer {
  const file = Buffer.from(sound);
  file.set(bytes, at);
  return file;
}

/** The archive with something in front of its directory, or between it and the end record. */
function inserted(at: number, more: Buffer, directoryOffset: number): Buffer {
  const file = Buffer.concat([sound.subarray(0, at), more, sound.subarray(at)]);
  file.writeUInt32LE(directoryOffset, file.length - 6);
  return file;
}

export const ZIP_STRUCTURE: Group = {
  name: 'the structure of the archive',
  cases: [
    bad('nothing', 415, 'not-a-zip', () => ''),
    bad('a byte', 415, 'not-a-zip', () => 'P'),
    bad('a text', 415, 'not-a-zip', () => 'a shopping list '.repeat(100)),
    bad('a document', 415, 'not-a-zip', () => '<?xml version="1.0"?><KNX/>'),
    bad('an archive of another kind', 415, 'not-a-zip', () => Buffer.from('1f8b0800000000000003cb48cdc9c95728', 'hex')),
    bad('zeros', 415, 'not-a-zip', () => Buffer.alloc(100_000)),
    bad('an archive of nothing', 422, 'no-project', () => rawZip([])),
    bad('the first half', 422, 'archive-cut-off', () => sound.subarray(0, sound.length / 2)),
    bad('all but the last byte', 422, 'archive-cut-off', () => sound.subarray(0, -1)),
    bad('the end record alone', 422, 'directory-misplaced', () => sound.subarray(-22)),
    bad('the first of several volumes', 422, 'archive-split', () =>
      Buffer.concat([uint32s(0x08074b50), sound.subarray(0, 99)]),
    ),
    bad('the last of several volumes', 422, 'archive-split', () => packed({ end: { disk: 3 } })),
    bad('an entry of another volume', 422, 'archive-split', () => changed({ central: { disk: 1 } }), TOPOLOGY),
    bad('a zip64 locator of another volume', 422, 'archive-split', () =>
      packed({ zip64: { locatorDisk: 1 }, end: FULL }),
    ),
    bad('an entry too many announced', 422, 'directory-contradictory', () =>
      packed({ end: { entries: 3, entriesHere: 3 } }),
    ),
    bad('an entry too few announced', 422, 'directory-contradictory', () =>
      packed({ end: { entries: 1, entriesHere: 1 } }),
    ),
    bad('no entries announced', 422, 'directory-contradictory', () => packed({ end: { entries: 0, entriesHere: 0 } })),
    bad('two numbers of entries', 422, 'directory-contradictory', () => packed({ end: { entriesHere: 1 } })),
    bad('something between two entries of the directory', 422, 'directory-contradictory', () => patched(central, junk)),
    bad('an entry of the directory that runs over its end', 422, 'directory-contradictory', () =>
      patched(sound.lastIndexOf('PK\u0001\u0002') + 32, uint16s(999)),
    ),
    bad('a directory said to be at the start', 422, 'directory-misplaced', () =>
      packed({ end: { directoryOffset: 0 } }),
    ),
    bad('a directory said to be behind the end', 422, 'directory-misplaced', () =>
      packed({ end: { directoryOffset: 0x7fffffff } }),
    ),
    bad('a directory of 4 GiB', 422, 'directory-misplaced', () => packed({ end: { directoryBytes: FULL32 } })),
    bad('a directory of nothing', 422, 'directory-misplaced', () => packed({ end: { directoryBytes: 0 } })),
    bad('bytes in front of the archive', 422, 'archive-gap', () => Buffer.concat([junk, sound])),
    bad('a program in front of the archive', 422, 'archive-gap', () =>
      Buffer.concat([Buffer.from('MZ'), Buffer.alloc(4096), sound]),
    ),
    bad('an archive in front of the archive', 422, 'archive-gap', () => Buffer.concat([sound, sound])),
    bad('bytes behind the archive', 422, 'archive-gap', () => packed({ trailing: junk })),
    bad('a megabyte of zeros behind the archive', 422, 'archive-gap', () =>
      packed({ trailing: Buffer.alloc(1 << 20) }),
    ),
    bad('bytes between two entries', 422, 'archive-gap', () => changed({ before: junk }, HARDWARE), HARDWARE),
    bad('bytes before the directory', 422, 'archive-gap', () => inserted(central, junk, central + junk.length)),
    bad('bytes behind the directory', 422, 'archive-gap', () => inserted(sound.length - 22, junk, central)),
    bad('a second end record in the comment', 422, 'ambiguous-directory', () =>
      packed({ comment: endRecord(NO_END, Buffer.alloc(0)) }),
    ),
    bad('a second archive in the comment', 422, 'ambiguous-directory', () => packed({ comment: rawZip([]) })),
    bad('a zip64 end record in the comment', 422, 'ambiguous-directory', () =>
      packed({ comment: zip64End(NO_END, 0) }),
    ),
    bad(
      'an entry that is not where the directory says',
      422,
      'entry-misplaced',
      () => changed({ central: { offset: 1 } }),
      TOPOLOGY,
    ),
    bad(
      'an entry behind the end of the file',
      422,
      'entry-misplaced',
      () => changed({ central: { offset: 0x7fffffff } }),
      TOPOLOGY,
    ),
    bad(
      'an entry at a place beyond any file',
      422,
      'entry-misplaced',
      () => changed({ central: { offset: FULL32, extra: extraField(1, uint64s(2n ** 63n)) } }),
      TOPOLOGY,
    ),
    bad(
      'another name before the data',
      422,
      'entry-contradictory',
      () => changed({ local: { name: Buffer.from('P-0002/0.xml') } }),
      TOPOLOGY,
    ),
    bad(
      'another method before the data',
      422,
      'entry-contradictory',
      () => changed({ local: { method: 0 } }),
      TOPOLOGY,
    ),
    bad('another checksum before the data', 422, 'entry-contradictory', () => changed({ local: { crc: 1 } }), TOPOLOGY),
    bad(
      'another packed size before the data',
      422,
      'entry-contradictory',
      () => changed({ local: { packedBytes: 1 } }),
      TOPOLOGY,
    ),
    bad(
      'a name before the data that runs over the file',
      422,
      'entry-contradictory',
      () => changed({ local: { name: Buffer.alloc(60_000, 'x') } }),
      TOPOLOGY,
    ),
    bad(
      'two entries over the same bytes',
      422,
      'entries-overlap',
      () => and({ name: 'more', central: { offset: 0 } }),
      'more',
    ),
    bad(
      'data that runs into the directory',
      422,
      'entries-overlap',
      () => changed({ fields: { packedBytes: 100_000 } }, HARDWARE),
      HARDWARE,
    ),
    bad(
      'data that runs into the next entry',
      422,
      'entry-contradictory',
      () => changed({ local: { packedBytes: 400 } }),
      TOPOLOGY,
    ),
    bad('a zip64 record that reads behind itself for ever', 422, 'directory-contradictory', () =>
      packed({ zip64: { recordBytes: -6n }, end: FULL }),
    ),
    bad('a zip64 record that ends too early', 422, 'directory-contradictory', () =>
      packed({ zip64: { recordBytes: 43n }, end: FULL }),
    ),
    bad('a zip64 record at a place beyond any file', 422, 'directory-misplaced', () =>
      packed({ zip64: { at: 2 ** 63 }, end: FULL }),
    ),
    bad('a zip64 record of 2⁶³ entries', 413, 'limit-exceeded', () =>
      packed({ zip64: { entries: 2 ** 63, entriesHere: 2 ** 63 }, end: FULL }),
    ),
    bad('a zip64 record that contradicts the end record', 422, 'directory-contradictory', () =>
      packed({ zip64: {}, end: { entries: 1 } }),
    ),
    bad(
      'a zip64 extra field that is cut off',
      422,
      'entry-contradictory',
      () => changed({ central: { bytes: FULL32, packedBytes: FULL32, extra: extraField(1, uint64s(5)) } }),
      TOPOLOGY,
    ),
    bad(
      'a zip64 extra field twice',
      422,
      'entry-contradictory',
      () => changed({ fields: { extra: Buffer.concat([extraField(1), extraField(1)]) } }),
      TOPOLOGY,
    ),
    bad(
      'an extra field longer than all of them',
      422,
      'entry-contradictory',
      () => changed({ fields: { extra: uint16s(0x5455, FULL16) } }),
      TOPOLOGY,
    ),
    bad(
      'extra fields over their limit',
      413,
      'limit-exceeded',
      () => changed({ fields: { extra: extraField(0x5455, Buffer.alloc(5000)) } }),
      TOPOLOGY,
    ),
    bad(
      'a comment of an entry over its limit',
      413,
      'limit-exceeded',
      () => changed({ central: { comment: Buffer.alloc(5000) } }),
      TOPOLOGY,
    ),
    bad('a comment of the archive over its limit', 413, 'limit-exceeded', () =>
      packed({ comment: Buffer.alloc(5000, 'x') }),
    ),
    bad(
      'a descriptor that is not there',
      422,
      'entry-contradictory',
      () => changed({ descriptor: Buffer.alloc(0) }),
      TOPOLOGY,
    ),
    bad(
      'a descriptor of another size',
      422,
      'entry-contradictory',
      () => changed({ descriptor: descriptor({ crc: 1, packedBytes: 2, bytes: 3 }) }),
      TOPOLOGY,
    ),
    bad(
      'blanks before the data and no descriptor',
      422,
      'entry-contradictory',
      () => changed({ local: { crc: 0, packedBytes: 0, bytes: 0 } }),
      TOPOLOGY,
    ),
    fine('descriptors, as they are due', () => changed({ descriptor: true }), balance, SOUND),
    fine('zip64 records, as they are due', () => packed({ zip64: {}, end: FULL }), balance, SOUND),
    fine('a comment', () => packed({ comment: Buffer.from('from the office') }), balance, SOUND),
  ],
};
