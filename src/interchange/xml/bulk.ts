import { readFileSync } from 'node:fs';
import type { Limits } from '../../limits.js';
import type { Name } from './names.js';

/** The exports of `assembly/bulk.ts`, which says what they do. */
interface BulkExports {
  readonly memory: WebAssembly.Memory;
  forget(): void;
  teach(length: number): number;
  pass(from: number, room: number, mostAttributes: number, longestValue: number, longestTag: number): number;
}

// As laid out in `assembly/bulk.ts`; behind the stack of at most 256 open elements lies the window.
const LINES = 0;
const OPENED = 4;
const FOUND = 64;
const KEY_BYTES = 32;
const STACK = 8192;
const MOST_OPEN = 256;
const WINDOW = 16_384;
const PAGE_BYTES = 65_536;
/** Vectors are read up to this far beyond what is there. */
const BEYOND = 64;

const PLAIN_NAME = /^[A-Za-z_][A-Za-z0-9_.-]{0,30}$/;

const MODULE = new WebAssembly.Module(
  // One path for the sources and for what is built of them.
  readFileSync(new URL('../../../dist/interchange/xml/bulk.wasm', import.meta.url)),
);

/** Those that no document is read with at present: making one anew costs more than most documents. */
const idle: Bulk[] = [];

/** Passes over plain markup of elements that nobody wants, in a memory of its own that holds the window of the scan. */
export class Bulk {
  readonly #exports = new WebAssembly.Instance(MODULE).exports as BulkExports;
  #bytes: Buffer = this.#view();
  readonly #taught: Name[] = [];

  static take(): Bulk {
    const bulk = idle.pop() ?? new Bulk();
    bulk.forget();
    return bulk;
  }

  release(): void {
    idle.push(this);
  }

  /** The window: at least so many bytes. What stands in it stays; the buffer from before is not to be used any more. */
  window(bytes: number): Buffer {
    const missing = WINDOW + bytes + BEYOND - this.#bytes.length;
    if (missing > 0) {
      this.#exports.memory.grow(Math.ceil(missing / PAGE_BYTES));
      this.#bytes = this.#view();
    }
    return this.#bytes.subarray(WINDOW, this.#bytes.length - BEYOND);
  }

  /** Names from before are not `===` to those from now on. */
  forget(): void {
    this.#exports.forget();
    this.#taught.length = 0;
  }

  /** Has elements of this name passed over from now on. */
  teach(name: Name): void {
    name.isTaught = true;
    if (name.wanted !== undefined || !PLAIN_NAME.test(name.text)) return;
    this.#bytes.fill(0, FOUND, FOUND + KEY_BYTES);
    this.#bytes.set(name.bytes, FOUND);
    if (this.#exports.teach(name.bytes.length) !== 0) this.#taught.push(name);
  }

  /**
   * Passes over what is plain. {@link lines} and {@link opened} tell of it.
   * @param at in the window, inside of an element
   * @param room how many elements may be opened
   * @returns where it stopped, in the window
   */
  pass(at: number, room: number, { xmlAttributes, xmlValueLength, xmlTagBytes }: Limits): number {
    const most = Math.min(room, MOST_OPEN);
    return this.#exports.pass(WINDOW + at, most, xmlAttributes, xmlValueLength, xmlTagBytes) - WINDOW;
  }

  /** Line ends that were passed over. */
  get lines(): number {
    return this.#bytes.readUInt32LE(LINES);
  }

  /** How many elements were opened and not closed. */
  get openedCount(): number {
    return this.#bytes.readUInt32LE(OPENED);
  }

  opened(index: number): Name {
    return this.#taught[this.#bytes[STACK + index] as number] as Name;
  }

  #view(): Buffer {
    return Buffer.from(this.#exports.memory.buffer);
  }
}
