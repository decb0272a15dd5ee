import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';

const FIRST_BYTES = 64 * 1024;

/**
 * A body, put together piece by piece as it arrives: no moment comes at which all of it is copied, and its memory is
 * its own, so that it can be handed to another thread.
 * @param announced its bytes, where they are known beforehand
 * @throws InputError as soon as it is over the limit
 */
export async function gathered(
  pieces: AsyncIterable<Uint8Array>,
  announced: number | undefined,
  { uploadBytes }: Limits,
): Promise<Uint8Array> {
  let memory = new Uint8Array(Math.min(announced ?? FIRST_BYTES, uploadBytes));
  let length = 0;
  for await (const piece of pieces) {
    const needed = length + piece.length;
    if (needed > uploadBytes) throw tooLarge(undefined, uploadBytes);
    if (needed > memory.length) memory = enlarged(memory, Math.min(Math.max(needed, 2 * memory.length), uploadBytes));
    memory.set(piece, length);
    length = needed;
  }
  return memory.subarray(0, length);
}

function enlarged(memory: Uint8Array, bytes: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(bytes);
  larger.set(memory);
  return larger;
}

export function tooLarge(length: number | undefined, uploadBytes: number): InputError {
  const size = length === undefined ? 'more bytes than allowed' : `${length} bytes`;
  return new InputError('limit-exceeded', `the upload has ${size}; the limit uploadBytes is ${uploadBytes}`);
}
