import { crc32 } from 'node:zlib';
import { InputError, quoted } from '../errors.js';
import type { Limits } from '../limits.js';

/**
 * The structural check of a ZIP file (APPNOTE 6.3): one end record at the very end, a central directory that fills the
 * space before it exactly, local headers that agree with it, no two entries over the same bytes, no name twice.
 * It runs before anything is inflated, because what reads archives is generous with those that lie.
 */
export interface Entry {
  /** The name as written, forward or backward slashes alike. */
  readonly name: string;
  readonly isDirectory: boolean;
  readonly isDeflated: boolean;
  readonly crc32: number;
  /** Inflated size, as declared. */
  readonly bytes: number;
  /** The data as it stands in the file. */
  readonly packed: Buffer;
}

interface CentralEntry extends Omit<Entry, 'packed' | 'isDeflated'> {
  readonly nameBytes: Buffer;
  readonly flags: number;
  readonly method: number;
  readonly packedBytes: number;
  readonly localOffset: number;
}

interface EndRecord {
  readonly entries: number;
  readonly directoryOffset: number;
  readonly directoryBytes: number;
  /** Where the directory has to end: at the end record, or at the zip64 one before it. */
  readonly directoryEnd: number;
}

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END64 = 0x06064b50;
const LOCATOR64 = 0x07064b50;
const END_BYTES = 22;
const END64_BYTES = 56;
const LOCATOR64_BYTES = 20;
const CENTRAL_BYTES = 46;
const LOCAL_BYTES = 30;
const FULL16 = 0xffff;
const FULL32 = 0xffffffff;
const FLAG_ENCRYPTED = 0x0001 | 0x0040 | 0x2000;
const FLAG_DESCRIPTOR = 0x0008;
const STORED = 0;
const DEFLATED = 8;
const EXTRA_ZIP64 = 0x0001;
const EXTRA_UNICODE_PATH = 0x7075;

/** @throws InputError `not-a-zip`, `damaged-archive`, `ambiguous-part`, `protected-project` or `limit-exceeded`. */
export function readDirectory(file: Buffer, limits: Limits): Entry[] {
  const end = findEndRecord(file);
  if (end.entries > limits.archiveEntries) {
    throw new InputError(
      'limit-exceeded',
      `the archive has ${end.entries} entries; the limit archiveEntries is ${limits.archiveEntries}`,
    );
  }
  const central = readCentral(file, end, limits);
  refuseSharedNames(central);
  return locate(file, central, end.directoryOffset);
}

function damaged(detail: string, part?: string): InputError {
  return new InputError('damaged-archive', `${detail}; export the project again`, { part });
}

function findEndRecord(file: Buffer): EndRecord {
  for (let at = file.length - END_BYTES; at >= Math.max(0, file.length - END_BYTES - FULL16); at--) {
    if (file.readUInt32LE(at) === END && at + END_BYTES + file.readUInt16LE(at + 20) === file.length) {
      return checkedEnd(file, at);
    }
  }
  if (file.length >= 4 && file.readUInt32LE(0) === LOCAL) {
    throw damaged('the archive is cut off: its directory at the end is missing');
  }
  throw new InputError('not-a-zip', 'the file is not a ZIP archive; upload the project archive as it was exported');
}

function checkedEnd(file: Buffer, at: number): EndRecord {
  const disks = file.readUInt16LE(at + 4) | file.readUInt16LE(at + 6);
  const end = { ...readEnd(file, at), ...readEnd64(file, at) };
  if (disks !== 0 && disks !== FULL16) throw damaged('the archive is one of several volumes');
  if (end.directoryOffset + end.directoryBytes !== end.directoryEnd) {
    throw damaged('the directory is not where the end record says');
  }
  return end;
}

function readEnd(file: Buffer, at: number): EndRecord {
  const entries = file.readUInt16LE(at + 10);
  if (entries !== file.readUInt16LE(at + 8)) throw damaged('the end record contradicts itself');
  return {
    entries,
    directoryBytes: file.readUInt32LE(at + 12),
    directoryOffset: file.readUInt32LE(at + 16),
    directoryEnd: at,
  };
}

/** The zip64 end record, where a locator stands right before the end record. */
function readEnd64(file: Buffer, endAt: number): EndRecord | undefined {
  const locator = endAt - LOCATOR64_BYTES;
  if (locator < 0 || file.readUInt32LE(locator) !== LOCATOR64) return undefined;
  const at = locator - END64_BYTES;
  const recordBytes = BigInt(END64_BYTES - 12);
  if (
    at < 0 ||
    file.readUInt32LE(at) !== END64 ||
    readUInt64(file, locator + 8) !== at ||
    file.readBigUInt64LE(at + 4) !== recordBytes
  ) {
    throw damaged('the zip64 end record is not where its locator says, or is of a kind not read here');
  }
  const entries = readUInt64(file, at + 32);
  if (entries !== readUInt64(file, at + 24)) throw damaged('the zip64 end record contradicts itself');
  return {
    entries,
    directoryBytes: readUInt64(file, at + 40),
    directoryOffset: readUInt64(file, at + 48),
    directoryEnd: at,
  };
}

function readUInt64(file: Buffer, at: number): number {
  const value = file.readBigUInt64LE(at);
  if (value > BigInt(Number.MAX_SAFE_INTEGER)) throw damaged('a size or place lies beyond any file');
  return Number(value);
}

function readCentral(file: Buffer, end: EndRecord, limits: Limits): CentralEntry[] {
  const entries: CentralEntry[] = [];
  let at = end.directoryOffset;
  while (at < end.directoryEnd) {
    if (at + CENTRAL_BYTES > end.directoryEnd || file.readUInt32LE(at) !== CENTRAL) {
      throw damaged('the directory holds something that is no entry');
    }
    const next =
      at + CENTRAL_BYTES + file.readUInt16LE(at + 28) + file.readUInt16LE(at + 30) + file.readUInt16LE(at + 32);
    if (next > end.directoryEnd) throw damaged('an entry of the directory runs over its end');
    entries.push(readCentralEntry(file, at, limits));
    at = next;
  }
  if (entries.length !== end.entries) {
    throw damaged(`the directory has ${entries.length} entries where ${end.entries} are announced`);
  }
  return entries;
}

function readCentralEntry(file: Buffer, at: number, limits: Limits): CentralEntry {
  const nameLength = file.readUInt16LE(at + 28);
  const nameBytes = file.subarray(at + CENTRAL_BYTES, at + CENTRAL_BYTES + nameLength);
  const name = nameBytes.toString('utf8');
  if (nameLength > limits.entryNameLength) {
    throw new InputError(
      'limit-exceeded',
      `the name of the entry has ${nameLength} bytes; the limit entryNameLength is ${limits.entryNameLength}`,
      { part: name },
    );
  }
  const extraStart = at + CENTRAL_BYTES + nameLength;
  const extra = file.subarray(extraStart, extraStart + file.readUInt16LE(at + 30));
  const entry = {
    name,
    nameBytes,
    isDirectory: /[/\\]$/.test(name),
    flags: file.readUInt16LE(at + 8),
    method: file.readUInt16LE(at + 10),
    crc32: file.readUInt32LE(at + 16),
    ...readSizes(file, at, extra, name),
  };
  refuseUnreadable(entry, extra);
  return entry;
}

type Sizes = Pick<CentralEntry, 'packedBytes' | 'bytes' | 'localOffset'>;

/** Sizes and place of an entry; those that are full in the 32-bit field stand in the zip64 extra field, in order. */
function readSizes(file: Buffer, at: number, extra: Buffer, name: string): Sizes {
  const wide = extraField(extra, EXTRA_ZIP64, name);
  let read = 0;
  const field = (offset: number): number => {
    const short = file.readUInt32LE(at + offset);
    if (short !== FULL32 || wide === undefined) return short;
    if (read + 8 > wide.length) throw damaged('the zip64 sizes of the entry are cut off', name);
    read += 8;
    return readUInt64(wide, read - 8);
  };
  const bytes = field(24);
  const packedBytes = field(20);
  return { bytes, packedBytes, localOffset: field(42) };
}

function extraField(extra: Buffer, id: number, name: string): Buffer | undefined {
  let at = 0;
  while (at + 4 <= extra.length) {
    const end = at + 4 + extra.readUInt16LE(at + 2);
    if (end > extra.length) throw damaged('an extra field of the entry is cut off', name);
    if (extra.readUInt16LE(at) === id) return extra.subarray(at + 4, end);
    at = end;
  }
  return undefined;
}

function refuseUnreadable({ name, nameBytes, flags, method }: CentralEntry, extra: Buffer): void {
  if ((flags & FLAG_ENCRYPTED) !== 0) {
    throw new InputError('protected-project', 'the entry is encrypted; export the project without a password', {
      part: name,
    });
  }
  if (method !== STORED && method !== DEFLATED) {
    throw damaged(`the entry is packed by method ${method}, and only stored (0) and deflated (8) are read`, name);
  }
  const unicodePath = extraField(extra, EXTRA_UNICODE_PATH, name);
  if (unicodePath !== undefined && !sameUnicodePath(unicodePath, nameBytes)) {
    throw new InputError('ambiguous-part', 'the entry has a second, different name in an extra field', { part: name });
  }
}

/** The extra field gives the name again (version, CRC of the plain name, UTF-8); stale when the CRC differs. */
function sameUnicodePath(field: Buffer, nameBytes: Buffer): boolean {
  if (field.length < 5 || field.readUInt32LE(1) !== crc32(nameBytes)) return true;
  return field.subarray(5).equals(nameBytes);
}

/**
 * Finds the data of each entry. Each local header agrees with the directory, and no byte belongs to two entries or to
 * the directory as well.
 */
function locate(file: Buffer, central: readonly CentralEntry[], directoryOffset: number): Entry[] {
  const ends = new Map<CentralEntry, number>();
  let free = 0;
  for (const entry of [...central].sort((a, b) => a.localOffset - b.localOffset)) {
    if (entry.localOffset < free) throw damaged('the entry lies over another one', entry.name);
    free = checkedLocalEnd(file, entry, directoryOffset);
    ends.set(entry, free);
  }
  return central.map((entry) => {
    const { name, isDirectory, crc32, bytes, packedBytes, method } = entry;
    const end = ends.get(entry) ?? 0;
    const packed = file.subarray(end - packedBytes, end);
    return { name, isDirectory, isDeflated: method === DEFLATED, crc32, bytes, packed };
  });
}

function checkedLocalEnd(file: Buffer, entry: CentralEntry, directoryOffset: number): number {
  const at = entry.localOffset;
  if (at + LOCAL_BYTES > directoryOffset || file.readUInt32LE(at) !== LOCAL) {
    throw damaged('the entry is not where the directory says', entry.name);
  }
  const nameEnd = at + LOCAL_BYTES + file.readUInt16LE(at + 26);
  const dataEnd = nameEnd + file.readUInt16LE(at + 28) + entry.packedBytes;
  if (dataEnd > directoryOffset) throw damaged('the data of the entry runs into the directory', entry.name);
  const hasDescriptor = (entry.flags & FLAG_DESCRIPTOR) !== 0;
  const agrees =
    file.subarray(at + LOCAL_BYTES, nameEnd).equals(entry.nameBytes) &&
    file.readUInt16LE(at + 6) === entry.flags &&
    file.readUInt16LE(at + 8) === entry.method &&
    agreesOrBlank(file.readUInt32LE(at + 14), entry.crc32, hasDescriptor) &&
    agreesOrBlank(file.readUInt32LE(at + 18), entry.packedBytes, hasDescriptor) &&
    agreesOrBlank(file.readUInt32LE(at + 22), entry.bytes, hasDescriptor);
  if (!agrees) throw damaged('the header of the entry contradicts the directory', entry.name);
  return dataEnd;
}

/** A local header leaves a value blank where a descriptor follows the data, and full where zip64 holds it. */
function agreesOrBlank(local: number, central: number, hasDescriptor: boolean): boolean {
  return local === central || local === FULL32 || (hasDescriptor && local === 0);
}

function refuseSharedNames(entries: readonly CentralEntry[]): void {
  const seen = new Map<string, string>();
  for (const { name } of entries) {
    const key = normalisedPath(name);
    const other = seen.get(key);
    if (other !== undefined) {
      throw new InputError('ambiguous-part', `another entry has the same name: ${quoted(other)}`, { part: name });
    }
    seen.set(key, name);
  }
}

/** One spelling of a path: forward slashes, no leading `./`, composed Unicode, lower case. */
export function normalisedPath(name: string): string {
  return name
    .replace(/\\/g, '/')
    .replace(/^(\.?\/)+/, '')
    .normalize('NFC')
    .toLowerCase();
}
