import { constants, deflateRawSync } from 'node:zlib';

const MIB = 1024 * 1024;

/**
 * A deflate stream of so many bytes of one character behind a beginning, made of one block over and over: a few MiB of
 * stream and no work, however much it becomes.
 * @param mebibytes a multiple of 4
 */
export function repeated(character: string, mebibytes: number, beginning = ''): Buffer {
  const block = unfinished(Buffer.alloc(4 * MIB, character));
  const blocks = Array.from({ length: mebibytes / 4 }, () => block);
  return Buffer.concat([unfinished(Buffer.from(beginning)), ...blocks, deflateRawSync(Buffer.alloc(0))]);
}

/** A full flush ends between two blocks, and what follows refers to nothing before. */
function unfinished(data: Buffer): Buffer {
  return deflateRawSync(data, { finishFlush: constants.Z_FULL_FLUSH });
}
