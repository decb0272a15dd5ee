import { createHash } from 'node:crypto';
import { crc32, createInflateRaw } from 'node:zlib';
import type { LimitName, Limits } from '../limits.js';
import { type Entry, readDirectory } from './directory.js';
import { damaged, overLimit } from './refusal.js';
import { release } from './release.js';

/** One entry of the archive that holds data. */
export interface Part {
  /** As written in the archive; what errors and the report show. */
  readonly name: string;
  /** Forward slashes, no difference of case: what parts are recognised by. */
  readonly path: string;
  /** Inflated size, as declared. */
  readonly bytes: number;
}

/** What the report tells of a part that was read. */
export interface PartRead {
  readonly name: string;
  readonly bytes: number;
  readonly crc32: string;
}

/**
 * The bytes of an upload as named parts. A part is inflated when it is asked for and not before; while it is inflated
 * it never grows over the size that the directory declares, which the limits bound, and at the end its size and CRC-32
 * are held against the directory.
 */
export class Archive {
  readonly parts: readonly Part[];
  readonly bytes: number;
  readonly sha256: string;
  readonly #entries: ReadonlyMap<Part, Entry>;
  readonly #limits: Limits;
  readonly #read = new Map<string, PartRead>();
  #inflated = 0;

  /** @throws InputError where the file is no ZIP archive, is damaged, or is over a limit. */
  static open(file: Uint8Array, limits: Limits): Archive {
    if (file.length > limits.uploadBytes) {
      throw overLimit(`the archive has ${file.length} bytes`, 'uploadBytes', limits);
    }
    const bytes = Buffer.from(file.buffer, file.byteOffset, file.byteLength);
    return new Archive(bytes, readDirectory(bytes, limits), limits);
  }

  private constructor(file: Buffer, entries: readonly Entry[], limits: Limits) {
    this.bytes = file.length;
    this.sha256 = createHash('sha256').update(file).digest('hex');
    this.#limits = limits;
    const files = entries.filter((entry) => !entry.isDirectory);
    this.#entries = new Map(files.map((entry) => [asPart(entry), entry]));
    this.parts = [...this.#entries.keys()];
  }

  /** The parts that were read to their end so far, by name. */
  get partsRead(): readonly PartRead[] {
    return [...this.#read.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  /**
   * The part in pieces, inflated as they are asked for; each is of use only until the next one is.
   * @param limit which of the limits bounds the part: topology documents are allowed more than others
   * @throws InputError `limit-exceeded`, `inflate-failed`, `size-mismatch` or `checksum-mismatch`
   */
  async *stream(part: Part, limit: 'partBytes' | 'topologyBytes' = 'partBytes'): AsyncGenerator<Uint8Array> {
    const entry = this.#entries.get(part);
    if (entry === undefined) throw new Error(`not a part of this archive: ${part.name}`);
    this.#holdAgainstLimits(entry, limit);
    let bytes = 0;
    let checksum = 0;
    for await (const chunk of unpacked(entry)) {
      bytes += chunk.length;
      if (bytes > entry.bytes) {
        throw damaged('size-mismatch', `the part has more than the ${entry.bytes} bytes that are declared`, part.name);
      }
      checksum = crc32(chunk, checksum);
      yield chunk;
    }
    if (bytes !== entry.bytes) {
      throw damaged('size-mismatch', `the part has ${bytes} bytes where ${entry.bytes} are declared`, part.name);
    }
    if (checksum !== entry.crc32) {
      throw damaged('checksum-mismatch', 'the data does not match its CRC-32', part.name);
    }
    this.#read.set(part.name, { name: part.name, bytes, crc32: checksum.toString(16).padStart(8, '0') });
  }

  /** By the size that is declared, before anything is inflated. */
  #holdAgainstLimits({ name, bytes, packed }: Entry, limit: 'partBytes' | 'topologyBytes'): void {
    const over = (what: string, limitName: LimitName) => overLimit(what, limitName, this.#limits, name);
    if (bytes > this.#limits[limit]) throw over('the part inflates to more bytes than allowed', limit);
    if (bytes > RATIO_COUNTS_ABOVE && bytes > packed.length * this.#limits.partRatio) {
      throw over('the part inflates to too many times its packed size', 'partRatio');
    }
    this.#inflated += bytes;
    if (this.#inflated > this.#limits.totalBytes) throw over('the parts read are too large together', 'totalBytes');
  }
}

/** A small part may well pack better than any limit (a megabyte of blanks); it harms nobody. */
const RATIO_COUNTS_ABOVE = 1024 * 1024;

/** Large enough that handing a piece over costs nothing beside inflating it. */
const PIECE_BYTES = 512 * 1024;

/** With room left over, a small part comes in one piece. */
const SPARE_BYTES = 64;

/** So many pieces (a stream of objects does not join them) are inflated ahead, so that neither side waits for long. */
const AHEAD = { readableObjectMode: true, readableHighWaterMark: 4 };

/** The data of an entry in pieces, inflated off this thread while earlier ones are read. */
async function* unpacked({ name, isDeflated, packed, bytes }: Entry): AsyncGenerator<Uint8Array> {
  if (!isDeflated) {
    for (let at = 0; at < packed.length; at += PIECE_BYTES) yield packed.subarray(at, at + PIECE_BYTES);
    return;
  }
  const inflate = createInflateRaw({ chunkSize: Math.min(PIECE_BYTES, bytes + SPARE_BYTES), ...AHEAD });
  inflate.end(packed);
  try {
    for await (const piece of inflate as AsyncIterable<Buffer<ArrayBuffer>>) {
      yield piece;
      if (piece.length === piece.buffer.byteLength) release(piece.buffer);
    }
  } catch (cause) {
    throw damaged('inflate-failed', `the data cannot be inflated (${(cause as Error).message})`, name);
  }
  if (inflate.bytesWritten !== packed.length) {
    throw damaged('size-mismatch', 'something follows the end of the packed data', name);
  }
}

function asPart({ name, path, bytes }: Entry): Part {
  return { name, path, bytes };
}
