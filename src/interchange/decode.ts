import { TextDecoder } from 'node:util';
import { InputError } from '../errors.js';

type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be';

/**
 * Bytes → text, strictly: UTF-8 with or without a byte order mark, UTF-16 with one. Ill-formed bytes are a fault, never
 * a replacement character.
 */
export class Decoder {
  #head: Buffer = Buffer.alloc(0);
  #decoder: TextDecoder | undefined;
  #encoding: Encoding = 'utf-8';

  constructor(readonly part: string) {}

  /** Decodes the next piece; characters that a piece cuts in two come with the next one. */
  decode(bytes: Uint8Array): string {
    if (this.#decoder !== undefined) return this.#attempt(bytes, true);
    this.#head = Buffer.concat([this.#head, bytes]);
    return this.#head.length < 4 ? '' : this.#start();
  }

  /** Ends the text. */
  end(): string {
    const rest = this.#decoder === undefined ? this.#start() : '';
    return rest + this.#attempt(new Uint8Array(), false);
  }

  /** Holds the encoding that the XML declaration names against the one that the bytes are in. */
  requireDeclared(declared: string | undefined): void {
    if (declared === undefined) return;
    const family = this.#encoding === 'utf-8' ? ['utf-8', 'us-ascii'] : ['utf-16', this.#encoding];
    if (family.includes(declared.toLowerCase())) return;
    throw this.#fault(`the document is declared as ${declared.slice(0, 40)} but its bytes are ${this.#encoding}`);
  }

  #start(): string {
    this.#encoding = this.#detect();
    this.#decoder = new TextDecoder(this.#encoding, { fatal: true });
    return this.#attempt(this.#head, true);
  }

  #detect(): Encoding {
    const [a, b] = this.#head;
    if (a === 0xff && b === 0xfe) return 'utf-16le';
    if (a === 0xfe && b === 0xff) return 'utf-16be';
    if (a === 0 || b === 0) throw this.#fault('the document looks like UTF-16 or UTF-32 without a byte order mark');
    return 'utf-8';
  }

  #attempt(bytes: Uint8Array, stream: boolean): string {
    try {
      return this.#decoder?.decode(bytes, { stream }) ?? '';
    } catch {
      throw this.#fault(`the document is not valid ${this.#encoding}`);
    }
  }

  #fault(detail: string): InputError {
    return new InputError('unreadable-encoding', detail, { part: this.part });
  }
}
