import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import type { Directory } from './end-record.js';
import { type Extra, readExtra } from './extra.js';
import {
  ARCHIVE_EXTRA,
  CENTRAL,
  CENTRAL_BYTES,
  DEFLATED,
  FLAG_ENCRYPTED,
  FLAG_PATCH,
  FULL16,
  FULL32,
  hasSignature,
  readUInt64,
  STORED,
} from './format.js';
import { normalisedPath, readName } from './names.js';
import { damaged, encryptedDirectory, overLimit, refuseLong } from './refusal.js';

/** An entry as the directory describes it. */
export interface CentralEntry extends Sizes {
  readonly name: string;
  readonly nameBytes: Buffer;
  readonly path: string;
  readonly isDirectory: boolean;
  readonly flags: number;
  /** The version of the format that is needed, times ten. */
  readonly version: number;
  readonly method: number;
  readonly crc32: number;
}

interface Sizes {
  readonly bytes: number;
  readonly packedBytes: number;
  readonly localOffset: number;
  readonly disk: number;
}

const SLASH = 0x2f;
const BACKSLASH = 0x5c;

/** The entries of the directory, which fill it exactly. */
export function readCentral(file: Buffer, { entries, start, end }: Directory, limits: Limits): CentralEntry[] {
  if (hasSignature(file, start, ARCHIVE_EXTRA)) {
    throw encryptedDirectory();
  }
  const found: CentralEntry[] = [];
  let declaredBytes = 0;
  let at = start;
  while (at < end) {
    if (found.length === entries) {
      throw damaged('directory-contradictory', `the directory goes on after the ${entries} entries that are announced`);
    }
    const next = headerEnd(file, at, end);
    const entry = readEntry(file, at, limits);
    declaredBytes += entry.bytes;
    if (declaredBytes > limits.declaredBytes) {
      throw overLimit('up to this entry the directory declares more bytes', 'declaredBytes', limits, entry.name);
    }
    found.push(entry);
    at = next;
  }
  if (found.length < entries) {
    const what = `the directory has ${found.length} entries where ${entries} are announced`;
    throw damaged('directory-contradictory', what);
  }
  return found;
}

function headerEnd(file: Buffer, at: number, directoryEnd: number): number {
  if (at + CENTRAL_BYTES > directoryEnd || !hasSignature(file, at, CENTRAL)) {
    throw damaged('directory-contradictory', 'the directory holds something that is no entry');
  }
  const end = at + CENTRAL_BYTES + file.readUInt16LE(at + 28) + file.readUInt16LE(at + 30) + file.readUInt16LE(at + 32);
  if (end > directoryEnd) throw damaged('directory-contradictory', 'an entry of the directory runs over its end');
  return end;
}

function readEntry(file: Buffer, at: number, limits: Limits): CentralEntry {
  const extraStart = at + CENTRAL_BYTES + file.readUInt16LE(at + 28);
  const extraEnd = extraStart + file.readUInt16LE(at + 30);
  const nameBytes = file.subarray(at + CENTRAL_BYTES, extraStart);
  refuseLong('name', nameBytes.length, 'entryNameLength', limits, nameBytes);
  refuseLong('extra field', extraEnd - extraStart, 'entryExtraLength', limits, nameBytes);
  refuseLong('comment', file.readUInt16LE(at + 32), 'entryCommentLength', limits, nameBytes);
  refuseDeep(nameBytes, limits);
  const flags = file.readUInt16LE(at + 8);
  const extra = readExtra(file, extraStart, extraEnd, nameBytes);
  const name = readName(nameBytes, flags, extra);
  const entry = {
    name,
    nameBytes,
    path: normalisedPath(name),
    isDirectory: /[/\\]$/.test(name),
    flags,
    version: file.readUInt8(at + 6),
    method: file.readUInt16LE(at + 10),
    crc32: file.readUInt32LE(at + 16),
    ...readSizes(file, at, extra, name),
  };
  refuseUnreadable(entry);
  refuseFalse(entry);
  return entry;
}

function refuseDeep(name: Buffer, limits: Limits): void {
  let depth = 0;
  for (const byte of name) {
    if (byte === SLASH || byte === BACKSLASH) depth++;
  }
  if (depth > limits.entryDepth) {
    throw overLimit(`the entry lies ${depth} folders deep`, 'entryDepth', limits, name.toString());
  }
}

/** Sizes and place of an entry; those that are full in the header stand in the zip64 extra field, in order. */
function readSizes(file: Buffer, at: number, { zip64 }: Extra, name: string): Sizes {
  let read = 0;
  const wide = (bytes: number): Buffer | undefined => {
    if (zip64 === undefined) return undefined;
    read += bytes;
    if (read > zip64.length) throw damaged('entry-contradictory', 'the zip64 sizes of the entry are cut off', name);
    return zip64.subarray(read - bytes);
  };
  const field = (offset: number): number => {
    const short = file.readUInt32LE(at + offset);
    const long = short === FULL32 ? wide(8) : undefined;
    return long === undefined ? short : readUInt64(long, 0);
  };
  const bytes = field(24);
  const packedBytes = field(20);
  const localOffset = field(42);
  const disk = file.readUInt16LE(at + 34);
  return { bytes, packedBytes, localOffset, disk: disk === FULL16 ? (wide(4)?.readUInt32LE(0) ?? disk) : disk };
}

/** 6.3, times ten; none since is of use to what is stored or deflated. */
const NEWEST_VERSION = 63;

function refuseUnreadable({ name, flags, version, method, disk }: CentralEntry): void {
  if ((flags & FLAG_ENCRYPTED) !== 0) {
    throw new InputError('protected-project', 'the entry is encrypted; export the project without a password', {
      part: name,
    });
  }
  if ((flags & FLAG_PATCH) !== 0 || (method !== STORED && method !== DEFLATED)) {
    const how = (flags & FLAG_PATCH) !== 0 ? 'as a patch' : `by method ${method}`;
    const what = `the entry is packed ${how}, and only stored (0) and deflated (8) are read`;
    throw damaged('unsupported-packing', what, name);
  }
  if (version > NEWEST_VERSION) {
    const what = `the entry needs version ${version / 10} of the format, and versions to ${NEWEST_VERSION / 10} are read`;
    throw damaged('unsupported-packing', what, name);
  }
  if (disk !== 0) {
    const detail = 'the entry begins in another volume; join them to a single file, or export the project again';
    throw new InputError('archive-split', detail, { part: name });
  }
}

/** No data, deflated, takes two bytes. */
const EMPTY_BYTES = 2;

function refuseFalse({ name, isDirectory, bytes, packedBytes, method }: CentralEntry): void {
  if (isDirectory && (bytes > 0 || packedBytes > EMPTY_BYTES)) {
    throw damaged('entry-contradictory', 'the entry is a folder and holds data', name);
  }
  if (method === STORED && bytes !== packedBytes) {
    const what = `the part is stored in ${packedBytes} bytes where ${bytes} are declared`;
    throw damaged('size-mismatch', what, name);
  }
}
