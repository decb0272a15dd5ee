import { crc32 } from 'node:zlib';
import { damaged } from './refusal.js';

const ZIP64 = 0x0001;
const UNICODE_PATH = 0x7075;

/** The extra fields that mean something here; times, owners and the like are passed over. */
export interface Extra {
  /** Sizes and places that are too large for the header. */
  readonly zip64: Buffer | undefined;
  /** The name again, in UTF-8: version, CRC-32 of the plain name, name. */
  readonly unicodePath: Buffer | undefined;
}

export function readExtra(extra: Buffer, part: string): Extra {
  const found = new Map<number, Buffer>();
  let at = 0;
  while (at + 4 <= extra.length) {
    const id = extra.readUInt16LE(at);
    const end = at + 4 + extra.readUInt16LE(at + 2);
    if (end > extra.length) throw damaged('entry-contradictory', 'an extra field of the entry is cut off', part);
    if (id === ZIP64 || id === UNICODE_PATH) {
      if (found.has(id)) throw damaged('entry-contradictory', 'the entry has the same extra field twice', part);
      found.set(id, extra.subarray(at + 4, end));
    }
    at = end;
  }
  return { zip64: found.get(ZIP64), unicodePath: found.get(UNICODE_PATH) };
}

/** The name that a unicode path gives; none if it was written for another name, as it is left when a tool renames. */
export function unicodeName(path: Buffer | undefined, plain: Buffer): Buffer | undefined {
  if (path === undefined || path.length < 5 || path.readUInt32LE(1) !== crc32(plain)) return undefined;
  return path.subarray(5);
}
