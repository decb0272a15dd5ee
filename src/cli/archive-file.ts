import { createReadStream } from 'node:fs';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';

export function isFileError(cause: unknown): cause is NodeJS.ErrnoException {
  return cause instanceof Error && 'syscall' in cause && 'code' in cause;
}

/** The file's bytes; of one over the limit, or without end, no more than that is read. */
export async function readArchive(file: string, { uploadBytes }: Limits): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of createReadStream(file)) {
    bytes += piece.length;
    if (bytes > uploadBytes) {
      throw new InputError(
        'limit-exceeded',
        `the archive has more than ${uploadBytes} bytes; the limit uploadBytes is ${uploadBytes}`,
      );
    }
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}
