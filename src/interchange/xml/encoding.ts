import { TextDecoder } from 'node:util';
import { InputError } from '../../errors.js';

type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be';

const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);

/**
 * The bytes of a document as UTF-8, whatever it is written in: UTF-8 with or without a byte order mark, UTF-16 with one.
 * UTF-8 passes as it is (its validity is for the reader to check), UTF-16 is transcoded strictly.
 */
export class Utf8Source {
  #head: Buffer | undefined = Buffer.alloc(0);
  #encoding: Encoding = 'utf-8';
  #utf16: TextDecoder | undefined;

  constructor(readonly part: string) {}

  /** The next piece as UTF-8. */
  next(bytes: Uint8Array): Uint8Array {
    if (this.#head === undefined) return this.#asUtf8(bytes);
    this.#head = Buffer.concat([this.#head, bytes]);
    return this.#head.length < 4 ? Buffer.alloc(0) : this.#start(this.#head);
  }

  /** What is left at the end. */
  end(): Uint8Array {
    const rest = this.#head === undefined ? Buffer.alloc(0) : this.#start(this.#head);
    return this.#utf16 === undefined ? rest : Buffer.concat([rest, this.#transcode(new Uint8Array(), false)]);
  }

  /** Holds the encoding that the XML declaration names against the one that the bytes are in. */
  requireDeclared(declared: string | undefined): void {
    if (declared === undefined) return;
    const family = this.#encoding === 'utf-8' ? ['utf-8'] : ['utf-16', this.#encoding];
    if (family.includes(declared.toLowerCase())) return;
    throw this.fault(`the document is declared as ${declared.slice(0, 40)} but would be read as ${this.#encoding}`);
  }

  fault(detail = `the document is not valid ${this.#encoding}`): InputError {
    return new InputError('unreadable-encoding', detail, { part: this.part });
  }

  #start(head: Buffer): Uint8Array {
    this.#head = undefined;
    const [a, b, c, d] = head;
    const isUtf32 = a === 0xff && b === 0xfe && c === 0 && d === 0; // in UTF-16 a NUL, with which no document begins
    if (isUtf32) throw this.fault('the document looks like UTF-32; only UTF-8 and UTF-16 are read');
    if (a === 0xff && b === 0xfe) this.#encoding = 'utf-16le';
    else if (a === 0xfe && b === 0xff) this.#encoding = 'utf-16be';
    else if (a === 0 || b === 0) {
      throw this.fault('the document looks like UTF-16 or UTF-32 without a byte order mark');
    }
    if (this.#encoding !== 'utf-8') this.#utf16 = new TextDecoder(this.#encoding, { fatal: true });
    const isMarked = head.subarray(0, BYTE_ORDER_MARK.length).equals(BYTE_ORDER_MARK);
    return this.#asUtf8(isMarked ? head.subarray(BYTE_ORDER_MARK.length) : head);
  }

  #asUtf8(bytes: Uint8Array): Uint8Array {
    return this.#utf16 === undefined ? bytes : this.#transcode(bytes, true);
  }

  #transcode(bytes: Uint8Array, stream: boolean): Buffer {
    try {
      return Buffer.from(this.#utf16?.decode(bytes, { stream }) ?? '', 'utf8');
    } catch {
      throw this.fault();
    }
  }
}
