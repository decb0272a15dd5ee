import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import {
  CENTRAL,
  DESCRIPTOR,
  END,
  END_BYTES,
  END64,
  END64_BYTES,
  FULL16,
  FULL32,
  hasSignature,
  LOCAL,
  LOCATOR64,
  LOCATOR64_BYTES,
  readUInt64,
} from './format.js';
import { damaged, encryptedDirectory, overLimit } from './refusal.js';

/** Where the directory stands, and how many entries it holds. */
export interface Directory {
  readonly entries: number;
  readonly start: number;
  readonly end: number;
}

interface EndFields {
  readonly disk: number;
  readonly directoryDisk: number;
  readonly entriesHere: number;
  readonly entries: number;
  readonly directoryBytes: number;
  readonly directoryOffset: number;
}

/** What a field of the end record holds where the zip64 end record has the value. */
const FULL: EndFields = {
  disk: FULL16,
  directoryDisk: FULL16,
  entriesHere: FULL16,
  entries: FULL16,
  directoryBytes: FULL32,
  directoryOffset: FULL32,
};

const END_SIGNATURE = Buffer.from('PK\u0005\u0006');
const ZIP64_SIGNATURES = [Buffer.from('PK\u0006\u0006'), Buffer.from('PK\u0006\u0007')];

/** Records of this version carry the keys of an encrypted directory. */
const VERSION_ENCRYPTED_DIRECTORY = 62;

/** Finds the directory by the one end record that stands at the very end of the file. */
export function findDirectory(file: Buffer, limits: Limits): Directory {
  const at = findEndRecord(file);
  refuseSecondEnd(file, at, limits);
  const at64 = findEnd64(file, at);
  const plain = readEnd(file, at);
  const fields = at64 === undefined ? plain : agreed(plain, readEnd64(file, at64));
  return located(file, fields, at64 ?? at);
}

/** The end record whose comment reaches to the end of the file; of several the outermost. */
function findEndRecord(file: Buffer): number {
  const lowest = Math.max(0, file.length - END_BYTES - FULL16);
  for (let at = lowest; at <= file.length - END_BYTES; at++) {
    at = file.indexOf(END_SIGNATURE, at);
    if (at < 0 || at > file.length - END_BYTES) break;
    if (commentEnd(file, at) === file.length) return at;
  }
  throw withoutEnd(file);
}

function commentEnd(file: Buffer, at: number): number {
  return at + END_BYTES + file.readUInt16LE(at + 20);
}

/** Why no end record stands at the end: there is more behind it, or less of it, or this is no archive. */
function withoutEnd(file: Buffer): InputError {
  const last = file.lastIndexOf(END_SIGNATURE);
  if (last >= 0 && last <= file.length - END_BYTES && hasDirectoryInFront(file, last)) {
    const more = file.length - commentEnd(file, last);
    if (more > 0) return damaged('archive-gap', `behind the end of the archive ${bytesStand(more)}`);
    return damaged('archive-cut-off', `the archive is cut off: ${-more} bytes of its comment are missing`);
  }
  if (hasSignature(file, 0, DESCRIPTOR)) return splitInVolumes();
  if (hasSignature(file, 0, LOCAL) || hasSignature(file, 0, END)) {
    return damaged('archive-cut-off', 'the archive is cut off: its directory at the end is missing');
  }
  return new InputError('not-a-zip', 'the file is not a ZIP archive; upload the project archive as it was exported');
}

/** Tells the end record of this file from that of an archive which is stored in it. */
function hasDirectoryInFront(file: Buffer, at: number): boolean {
  if (hasSignature(file, at - LOCATOR64_BYTES, LOCATOR64)) return true;
  const { directoryOffset, directoryBytes } = readEnd(file, at);
  if (directoryOffset + directoryBytes !== at) return false;
  return directoryBytes === 0 ? at === 0 : hasSignature(file, directoryOffset, CENTRAL);
}

function bytesStand(count: number): string {
  return count === 1 ? 'stands 1 byte that belongs to nothing' : `stand ${count} bytes that belong to nothing`;
}

function splitInVolumes(): InputError {
  return new InputError(
    'archive-split',
    'the archive is one of several volumes; join them to a single file, or export the project again',
  );
}

/** Other readers take the last end record that they find, wherever its comment ends. */
function refuseSecondEnd(file: Buffer, at: number, limits: Limits): void {
  const more = file.subarray(at + 4);
  if ([END_SIGNATURE, ...ZIP64_SIGNATURES].some((signature) => more.includes(signature))) {
    throw damaged('ambiguous-directory', 'the archive comment holds a second end record');
  }
  const commentBytes = file.length - at - END_BYTES;
  if (commentBytes > limits.archiveCommentLength) {
    throw overLimit(`the archive comment has ${commentBytes} bytes`, 'archiveCommentLength', limits);
  }
}

function readEnd(file: Buffer, at: number): EndFields {
  return {
    disk: file.readUInt16LE(at + 4),
    directoryDisk: file.readUInt16LE(at + 6),
    entriesHere: file.readUInt16LE(at + 8),
    entries: file.readUInt16LE(at + 10),
    directoryBytes: file.readUInt32LE(at + 12),
    directoryOffset: file.readUInt32LE(at + 16),
  };
}

/** The zip64 end record, where its locator stands right before the end record. */
function findEnd64(file: Buffer, endAt: number): number | undefined {
  const locator = endAt - LOCATOR64_BYTES;
  if (!hasSignature(file, locator, LOCATOR64)) return undefined;
  if (file.readUInt32LE(locator + 4) !== 0 || file.readUInt32LE(locator + 16) > 1) throw splitInVolumes();
  const at = readUInt64(file, locator + 8);
  if (at + END64_BYTES > locator || !hasSignature(file, at, END64)) {
    refusePrefix(file, locator - END64_BYTES - at, at, END64);
    throw damaged('directory-misplaced', 'the zip64 end record is not where its locator says');
  }
  if (at + END64_BYTES === locator && readUInt64(file, at + 4) === END64_BYTES - 12) return at;
  if (file.readUInt16LE(at + 14) >= VERSION_ENCRYPTED_DIRECTORY) {
    throw encryptedDirectory();
  }
  throw damaged('directory-contradictory', 'the zip64 end record does not reach to its locator');
}

function readEnd64(file: Buffer, at: number): EndFields {
  return {
    disk: file.readUInt32LE(at + 16),
    directoryDisk: file.readUInt32LE(at + 20),
    entriesHere: readUInt64(file, at + 24),
    entries: readUInt64(file, at + 32),
    directoryBytes: readUInt64(file, at + 40),
    directoryOffset: readUInt64(file, at + 48),
  };
}

/** Readers choose differently between the two records, so they have to say the same. */
function agreed(plain: EndFields, wide: EndFields): EndFields {
  for (const field of Object.keys(plain) as (keyof EndFields)[]) {
    if (plain[field] !== wide[field] && plain[field] !== FULL[field]) {
      throw damaged('directory-contradictory', 'the end record and the zip64 end record contradict each other');
    }
  }
  return wide;
}

/** What starts by as much too late as its place says, with an entry where the file should begin, has something before it. */
function refusePrefix(file: Buffer, bytes: number, place: number, signature: number): void {
  if (bytes > 0 && hasSignature(file, place + bytes, signature) && hasSignature(file, bytes, LOCAL)) {
    throw damaged('archive-gap', `before the archive ${bytesStand(bytes)}`);
  }
}

function located(file: Buffer, fields: EndFields, end: number): Directory {
  const { disk, directoryDisk, entriesHere, entries, directoryBytes, directoryOffset } = fields;
  if (disk !== 0 || directoryDisk !== 0) throw splitInVolumes();
  if (entriesHere !== entries) {
    throw damaged(
      'directory-contradictory',
      `the end record announces two numbers of entries, ${entriesHere} and ${entries}`,
    );
  }
  const gap = end - directoryOffset - directoryBytes;
  if (gap > 0 && directoryBytes > 0) {
    refusePrefix(file, gap, directoryOffset, CENTRAL);
    if (hasSignature(file, directoryOffset, CENTRAL)) {
      throw damaged('archive-gap', `between the directory and the end record ${bytesStand(gap)}`);
    }
  }
  if (gap !== 0) throw damaged('directory-misplaced', 'the directory is not where the end record says');
  return { entries, start: directoryOffset, end };
}
