import type { Limits } from '../limits.js';
import type { CentralEntry } from './central.js';
import { type Extra, readExtra, unicodeName } from './extra.js';
import { DESCRIPTOR, FLAG_DESCRIPTOR, FULL32, hasSignature, LOCAL, LOCAL_BYTES, readUInt64 } from './format.js';
import { secondName } from './names.js';
import { damaged, refuseLong } from './refusal.js';

/**
 * The packed data of each entry. Each local header agrees with the directory, and header, data and descriptor of one
 * entry follow those of another without a byte between them, from the start of the file to the directory.
 */
export function locateData(
  file: Buffer,
  entries: readonly CentralEntry[],
  directoryStart: number,
  limits: Limits,
): ReadonlyMap<CentralEntry, Buffer> {
  for (const entry of entries) refuseMisplaced(file, entry, directoryStart);
  const found = new Map<CentralEntry, Buffer>();
  const sorted = [...entries].sort((a, b) => a.localOffset - b.localOffset);
  let free = 0;
  for (const [index, entry] of sorted.entries()) {
    refuseApart(entry, free);
    const start = checkedHeaderEnd(file, entry, directoryStart, limits);
    const dataEnd = start + entry.packedBytes;
    if (dataEnd > directoryStart) {
      throw damaged('entries-overlap', 'the data of the entry runs into the directory', entry.name);
    }
    found.set(entry, file.subarray(start, dataEnd));
    free = descriptorEnd(file, dataEnd, entry, sorted[index + 1]?.localOffset ?? directoryStart);
  }
  if (free < directoryStart) {
    throw damaged('archive-gap', `${directoryStart - free} bytes before the directory belong to nothing`);
  }
  return found;
}

function refuseMisplaced(file: Buffer, { name, localOffset }: CentralEntry, directoryStart: number): void {
  if (localOffset + LOCAL_BYTES > directoryStart || !hasSignature(file, localOffset, LOCAL)) {
    throw damaged('entry-misplaced', 'the entry is not where the directory says', name);
  }
}

/** An entry begins where the one before it ends. */
function refuseApart({ name, localOffset }: CentralEntry, free: number): void {
  if (localOffset < free) throw damaged('entries-overlap', 'the entry lies over another one', name);
  if (localOffset > free) {
    throw damaged('archive-gap', `${localOffset - free} bytes before the entry belong to nothing`, name);
  }
}

/** Where the header ends and the data begins, once the header was found to agree with the directory. */
function checkedHeaderEnd(file: Buffer, entry: CentralEntry, directoryStart: number, limits: Limits): number {
  const at = entry.localOffset;
  const nameEnd = at + LOCAL_BYTES + file.readUInt16LE(at + 26);
  const end = nameEnd + file.readUInt16LE(at + 28);
  if (end > directoryStart || entry.nameBytes.compare(file, at + LOCAL_BYTES, nameEnd) !== 0) {
    throw contradictory(entry);
  }
  refuseLong('extra field', end - nameEnd, 'entryExtraLength', limits, entry.nameBytes);
  const extra = readExtra(file, nameEnd, end, entry.nameBytes);
  const second = unicodeName(extra.unicodePath, entry.nameBytes);
  if (second !== undefined && second.toString() !== entry.name) throw secondName(entry.name);
  if (!agrees(file, entry, extra)) throw contradictory(entry);
  return end;
}

function contradictory({ name }: CentralEntry) {
  return damaged('entry-contradictory', 'the header of the entry contradicts the directory', name);
}

/** A local header leaves a value blank where a descriptor follows the data. */
function agrees(file: Buffer, entry: CentralEntry, extra: Extra): boolean {
  const at = entry.localOffset;
  const { bytes, packedBytes } = localSizes(file, at, extra);
  const same = (local: number | undefined, central: number) =>
    local === central || (hasDescriptor(entry) && local === 0);
  return (
    file.readUInt16LE(at + 6) === entry.flags &&
    file.readUInt16LE(at + 8) === entry.method &&
    same(file.readUInt32LE(at + 14), entry.crc32) &&
    same(packedBytes, entry.packedBytes) &&
    same(bytes, entry.bytes)
  );
}

/** Sizes of the local header; those that are full stand in the zip64 extra field, in order. */
function localSizes(file: Buffer, at: number, { zip64 }: Extra) {
  let read = 0;
  const field = (offset: number): number | undefined => {
    const short = file.readUInt32LE(at + offset);
    if (short !== FULL32 || zip64 === undefined) return short;
    read += 8;
    return read > zip64.length ? undefined : readUInt64(zip64, read - 8);
  };
  const bytes = field(22);
  return { bytes, packedBytes: field(18) };
}

function hasDescriptor({ flags }: CentralEntry): boolean {
  return (flags & FLAG_DESCRIPTOR) !== 0;
}

/** The forms of a descriptor (CRC-32 and both sizes): with a signature or not, its sizes of 4 or of 8 bytes. */
const DESCRIPTOR_FORMS = [
  { signature: 4, size: 4 },
  { signature: 4, size: 8 },
  { signature: 0, size: 4 },
  { signature: 0, size: 8 },
] as const;

type DescriptorForm = (typeof DESCRIPTOR_FORMS)[number];

/** Where the descriptor ends, if there is one: of two forms that could be meant, the one up to what comes next. */
function descriptorEnd(file: Buffer, at: number, entry: CentralEntry, next: number): number {
  if (!hasDescriptor(entry)) return at;
  let shortest = Number.POSITIVE_INFINITY;
  for (const form of DESCRIPTOR_FORMS) {
    if (!describes(file, at, form, entry)) continue;
    const end = at + lengthOf(form);
    if (end === next) return end;
    shortest = Math.min(shortest, end);
  }
  if (shortest < next) return shortest;
  throw damaged('entry-contradictory', 'what follows the data of the entry is not its data descriptor', entry.name);
}

function lengthOf({ signature, size }: DescriptorForm): number {
  return signature + 4 + 2 * size;
}

function describes(file: Buffer, start: number, form: DescriptorForm, entry: CentralEntry): boolean {
  const { signature, size } = form;
  if (start + lengthOf(form) > file.length) return false;
  if (signature > 0 && !hasSignature(file, start, DESCRIPTOR)) return false;
  const at = start + signature;
  const read = (offset: number) => (size === 4 ? file.readUInt32LE(offset) : readUInt64(file, offset));
  return (
    file.readUInt32LE(at) === entry.crc32 && read(at + 4) === entry.packedBytes && read(at + 4 + size) === entry.bytes
  );
}
