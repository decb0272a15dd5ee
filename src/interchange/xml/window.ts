import { isUtf8 } from 'node:buffer';
import type { Bulk } from './bulk.js';

/** Bytes of a document that are not done with: what is left of the last pieces, then the new one. */
export class Window {
  #bytes: Buffer;
  #length = 0;
  /** Up to here the bytes are known to be valid UTF-8. */
  #checked = 0;

  /** @param memory that the bytes are to stand in, so that it can pass over them */
  constructor(readonly memory: Pick<Bulk, 'window'>) {
    this.#bytes = memory.window(0);
  }

  append(piece: Uint8Array): void {
    const needed = this.#length + piece.length + 1;
    if (needed > this.#bytes.length) this.#bytes = this.memory.window(needed);
    this.#bytes.set(piece, this.#length);
    this.#length += piece.length;
  }

  /**
   * Hands the whole characters in the window to a scan, with a 0 behind them, and forgets those that it is done with.
   * @returns false if the bytes are no valid UTF-8
   */
  scan(isLast: boolean, scan: (bytes: Buffer, end: number) => number): boolean {
    const bytes = this.#bytes;
    const end = isLast ? this.#length : wholeCharacters(bytes, this.#length);
    if (!isUtf8(bytes.subarray(this.#checked, end))) return false;
    const behind = bytes[end] as number;
    bytes[end] = 0;
    const done = scan(bytes, end);
    bytes[end] = behind;
    bytes.copyWithin(0, done, this.#length);
    this.#length -= done;
    this.#checked = end - done;
    return true;
  }
}

/** Where the last character ends that is there as a whole. */
function wholeCharacters(bytes: Buffer, length: number): number {
  for (let back = 1; back <= Math.min(3, length); back++) {
    const byte = bytes[length - back] as number;
    if (byte < 0x80) return length;
    if (byte >= 0xc0) return back < sequenceLength(byte) ? length - back : length;
  }
  return length;
}

function sequenceLength(lead: number): number {
  if (lead >= 0xf0) return 4;
  return lead >= 0xe0 ? 3 : 2;
}
