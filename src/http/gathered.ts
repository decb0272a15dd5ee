import type { FastifyRequest } from 'fastify';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { announcedBytes, roomOf } from './admission.js';
import { RequestError } from './problems.js';

const FIRST_BYTES = 64 * 1024;

/** An upload that is coming. */
interface Coming {
  bytes: number;
  isRefused: boolean;
}

/** How much of a request a body may be: all bodies of one together are bounded by `uploadBytes`. */
export interface Share {
  /** The limit that bounds it by itself. */
  readonly limit: 'uploadBytes' | 'documentBytes';
  /** Bytes of the request that were gathered before. */
  readonly before: number;
}

const WHOLE: Share = { limit: 'uploadBytes', before: 0 };

/**
 * The body of a request, or of a file in it, put together piece by piece as it arrives; its memory is its own, so that
 * it can be handed to another thread.
 * @throws InputError as soon as it is over the limit, RequestError where there is no room for it or it comes too slowly
 */
export async function gathered(
  pieces: AsyncIterable<Uint8Array>,
  request: FastifyRequest,
  limits: Limits,
  share: Share = WHOLE,
): Promise<Uint8Array> {
  const coming: Coming = { bytes: 0, isRefused: false };
  const watch = watched(coming, limits);
  try {
    return await Promise.race([collected(pieces, coming, request, limits, share), watch.tooSlow]);
  } finally {
    coming.isRefused = true; // where it goes on coming, nobody wants it
    watch.end();
  }
}

async function collected(
  pieces: AsyncIterable<Uint8Array>,
  coming: Coming,
  request: FastifyRequest,
  limits: Limits,
  { limit, before }: Share,
): Promise<Uint8Array> {
  const room = roomOf(request);
  const left = limits.uploadBytes - before;
  const bound = limits[limit] <= left ? limit : 'uploadBytes';
  const most = Math.min(limits[limit], left);
  const announced = limit === 'uploadBytes' ? announcedBytes(request) : undefined;
  let memory = new Uint8Array(Math.min(announced === undefined ? FIRST_BYTES : announced - before, most));
  let length = 0;
  for await (const piece of pieces) {
    if (coming.isRefused) break;
    const needed = length + piece.length;
    if (needed > most) throw tooLarge(undefined, limits[bound], bound);
    room.hold(before + needed);
    if (needed > memory.length) memory = enlarged(memory, Math.min(Math.max(needed, 2 * memory.length), most));
    memory.set(piece, length);
    length = needed;
    coming.bytes = needed;
  }
  return memory.subarray(0, length);
}

function enlarged(memory: Uint8Array, bytes: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(bytes);
  larger.set(memory);
  return larger;
}

/** How often it is looked at whether an upload comes fast enough. */
const WATCH_SECONDS = 10;

function watched(coming: Coming, { uploadBytesPerSecond }: Limits) {
  let before = 0;
  let timer: NodeJS.Timeout | undefined;
  const tooSlow = new Promise<never>((_resolve, reject) => {
    timer = setInterval(() => {
      if (coming.bytes - before < uploadBytesPerSecond * WATCH_SECONDS) reject(slow(uploadBytesPerSecond));
      before = coming.bytes;
    }, WATCH_SECONDS * 1000);
  });
  return { tooSlow, end: () => clearInterval(timer) };
}

function slow(uploadBytesPerSecond: number): RequestError {
  const detail = `the upload came with less than ${uploadBytesPerSecond} bytes a second (the limit uploadBytesPerSecond) over ${WATCH_SECONDS} seconds`;
  return new RequestError('request-timeout', detail);
}

export function tooLarge(length: number | undefined, most: number, limit: Share['limit'] = 'uploadBytes'): InputError {
  const size = length === undefined ? 'more bytes than allowed' : `${length} bytes`;
  const what = limit === 'uploadBytes' ? 'the upload' : 'a document';
  return new InputError('limit-exceeded', `${what} has ${size}; the limit ${limit} is ${most}`);
}
