import { crc32 } from 'node:zlib';
import type { InputError } from '../errors.js';
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

const NO_EXTRA: Extra = { zip64: undefined, unicodePath: undefined };

/** The extra fields between two places of a file, of the entry of this name. */
export function readExtra(file: Buffer, start: number, end: number, nameBytes: Buffer): Extra {
  if (start === end) return NO_EXTRA;
  const found = new Map<number, Buffer>();
  let at = start;
  while (at + 4 <= end) {
    const id = file.readUInt16LE(at);
    const next = at + 4 + file.readUInt16LE(at + 2);
    if (next > end) throw contradictory('an extra field of the entry is cut off', nameBytes);
    if (id === ZIP64 || id === UNICODE_PATH) {
      if (found.has(id)) throw contradictory('the entry has the same extra field twice', nameBytes);
      found.set(id, file.subarray(at + 4, next));
    }
    at = next;
  }
  return { zip64: found.get(ZIP64), unicodePath: found.get(UNICODE_PATH) };
}

function contradictory(what: string, nameBytes: Buffer): InputError {
  return damaged('entry-contradictory', what, nameBytes.toString());
}

/** The name that a unicode path gives; none if it was written for another name, as it is left when a tool renames. */
export function unicodeName(path: Buffer | undefined, plain: Buffer): Buffer | undefined {
  if (path === undefined || path.length < 5 || path.readUInt32LE(1) !== crc32(plain)) return undefined;
  return path.subarray(5);
}
