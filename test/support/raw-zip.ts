import { crc32, deflateRawSync } from 'node:zlib';

/**
 * Writes ZIP files byte by byte, so that a test can make one field lie. Every field is what it should be unless a test
 * sets it; the layout is that of APPNOTE 6.3 (local headers with data, central directory, end record).
 */
export interface RawEntry {
  readonly name: string | Buffer;
  readonly data?: string | Uint8Array;
  readonly stored?: boolean;
  /** The packed bytes themselves, instead of what packing the data gives. */
  readonly packed?: Uint8Array;
  /** Fields of both headers. */
  readonly fields?: Partial<EntryFields>;
  /** Fields of the local header alone. */
  readonly local?: Partial<EntryFields>;
  /** Fields of the central header alone. */
  readonly central?: Partial<CentralFields>;
  /** Bytes between the end of the entry before and this one. */
  readonly before?: Uint8Array;
  /** Blank the local header and put the figures behind the data: as usual, or these bytes. */
  readonly descriptor?: boolean | Uint8Array;
}

export interface EntryFields {
  readonly name: Buffer;
  readonly flags: number;
  readonly method: number;
  readonly crc: number;
  readonly packedBytes: number;
  readonly bytes: number;
  readonly extra: Buffer;
}

export interface CentralFields extends EntryFields {
  readonly offset: number;
  readonly attributes: number;
  readonly disk: number;
  readonly comment: Uint8Array;
  /** The version of the format that is needed, times ten. */
  readonly version: number;
}

export interface EndFields {
  readonly disk: number;
  readonly entriesHere: number;
  readonly entries: number;
  readonly directoryBytes: number;
  readonly directoryOffset: number;
}

export interface RawZipOptions {
  readonly comment?: Uint8Array;
  readonly end?: Partial<EndFields>;
  /** Write a zip64 end record and locator; fields given are those of the zip64 record. */
  readonly zip64?: Partial<EndFields> & Zip64Lies;
  readonly trailing?: Uint8Array;
}

interface Zip64Lies {
  readonly recordBytes?: bigint;
  readonly at?: number;
  readonly version?: number;
  readonly locatorDisk?: number;
}

export const FULL16 = 0xffff;
export const FULL32 = 0xffffffff;
export const FLAG_DESCRIPTOR = 0x0008;
const UTF8_NAME = 0x0800;
/** A fixed day: 2026-01-01 in the form of DOS. */
const DOS_DATE = ((2026 - 1980) << 9) | (1 << 5) | 1;

export function rawZip(entries: readonly RawEntry[], options: RawZipOptions = {}): Buffer {
  const pieces: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  const add = (bytes: Uint8Array) => {
    pieces.push(Buffer.from(bytes));
    at += bytes.length;
  };
  for (const entry of entries) {
    if (entry.before) add(entry.before);
    const { fields, packed } = fieldsOf(entry);
    directory.push(
      centralHeader({
        offset: at,
        attributes: 0,
        disk: 0,
        comment: Buffer.alloc(0),
        version: 20,
        ...fields,
        ...entry.central,
      }),
    );
    const blank = entry.descriptor ? { crc: 0, packedBytes: 0, bytes: 0 } : {};
    add(localHeader({ ...fields, ...blank, ...entry.local }));
    add(packed);
    if (entry.descriptor) add(entry.descriptor === true ? descriptor(fields) : entry.descriptor);
  }
  const directoryOffset = at;
  for (const header of directory) add(header);
  const end: EndFields = {
    disk: 0,
    entriesHere: entries.length,
    entries: entries.length,
    directoryBytes: at - directoryOffset,
    directoryOffset,
  };
  if (options.zip64) add(zip64End({ ...end, ...options.zip64 }, at, options.zip64));
  add(endRecord({ ...end, ...options.end }, options.comment ?? Buffer.alloc(0)));
  if (options.trailing) add(options.trailing);
  return Buffer.concat(pieces);
}

function fieldsOf(entry: RawEntry): { fields: EntryFields; packed: Uint8Array } {
  const data = Buffer.from(entry.data ?? '');
  const packed = entry.packed ?? (entry.stored ? data : deflateRawSync(data));
  const fields = {
    name: Buffer.from(entry.name),
    flags: UTF8_NAME | (entry.descriptor ? FLAG_DESCRIPTOR : 0),
    method: entry.stored ? 0 : 8,
    crc: crc32(data),
    packedBytes: packed.length,
    bytes: data.length,
    extra: Buffer.alloc(0),
    ...entry.fields,
  };
  return { fields, packed };
}

function localHeader({ name, flags, method, crc, packedBytes, bytes, extra }: EntryFields): Buffer {
  return Buffer.concat([
    uint32s(0x04034b50),
    uint16s(20, flags, method, 0, DOS_DATE),
    uint32s(crc, packedBytes, bytes),
    uint16s(name.length, extra.length),
    name,
    extra,
  ]);
}

function centralHeader({ name, flags, method, crc, packedBytes, bytes, extra, ...rest }: CentralFields): Buffer {
  return Buffer.concat([
    uint32s(0x02014b50),
    uint16s(20, rest.version, flags, method, 0, DOS_DATE),
    uint32s(crc, packedBytes, bytes),
    uint16s(name.length, extra.length, rest.comment.length, rest.disk, 0),
    uint32s(rest.attributes, rest.offset),
    name,
    extra,
    rest.comment,
  ]);
}

export function endRecord(end: EndFields, comment: Uint8Array): Buffer {
  return Buffer.concat([
    uint32s(0x06054b50),
    uint16s(end.disk, end.disk, end.entriesHere, end.entries),
    uint32s(end.directoryBytes, end.directoryOffset),
    uint16s(comment.length),
    comment,
  ]);
}

/** The zip64 end record and, right behind it, its locator. */
export function zip64End(end: EndFields, at: number, lies: Zip64Lies = {}): Buffer {
  return Buffer.concat([
    uint32s(0x06064b50),
    uint64s(lies.recordBytes ?? 44n),
    uint16s(45, lies.version ?? 45),
    uint32s(end.disk, end.disk),
    uint64s(end.entriesHere, end.entries, end.directoryBytes, end.directoryOffset),
    uint32s(0x07064b50, lies.locatorDisk ?? 0),
    uint64s(lies.at ?? at),
    uint32s(1),
  ]);
}

/** A data descriptor in one of its four forms. */
export function descriptor(
  { crc, packedBytes, bytes }: Pick<EntryFields, 'crc' | 'packedBytes' | 'bytes'>,
  { signed = true, wide = false } = {},
): Buffer {
  const sizes = wide ? uint64s(packedBytes, bytes) : uint32s(packedBytes, bytes);
  return Buffer.concat([signed ? uint32s(0x08074b50, crc) : uint32s(crc), sizes]);
}

export function extraField(id: number, ...data: readonly Uint8Array[]): Buffer {
  const body = Buffer.concat(data);
  return Buffer.concat([uint16s(id, body.length), body]);
}

export function uint16s(...values: readonly number[]): Buffer {
  const bytes = Buffer.alloc(values.length * 2);
  for (const [index, value] of values.entries()) bytes.writeUInt16LE(value, index * 2);
  return bytes;
}

export function uint32s(...values: readonly number[]): Buffer {
  const bytes = Buffer.alloc(values.length * 4);
  for (const [index, value] of values.entries()) bytes.writeUInt32LE(value, index * 4);
  return bytes;
}

export function uint64s(...values: readonly (number | bigint)[]): Buffer {
  const bytes = Buffer.alloc(values.length * 8);
  for (const [index, value] of values.entries()) bytes.writeBigUInt64LE(BigInt.asUintN(64, BigInt(value)), index * 8);
  return bytes;
}
