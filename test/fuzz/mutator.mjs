// @ts-check

/**
 * Makes new inputs out of known ones: bytes, blocks, words, and what stands between quotation marks.
 *
 * @typedef {import('../support/campus/random.mjs').Random} Random
 */

const LARGEST = 48 * 1024;
const VALUE = /"[^"<]{0,80}"/g;
const INTERESTING = [0, 1, 0x20, 0x22, 0x26, 0x2f, 0x30, 0x39, 0x3c, 0x3e, 0x7f, 0x80, 0xc0, 0xef, 0xfe, 0xff];

/** Values that have broken readers before. */
const HOSTILE = [
  '',
  ' ',
  '-0',
  '1e400',
  'NaN',
  '1,5',
  '9'.repeat(40),
  '__proto__',
  '&#xD800;',
  '&#10;',
  'x'.repeat(600),
];

export class Mutator {
  #random;
  #words;

  /** @param {Random} random @param {readonly Buffer[]} words */
  constructor(random, words) {
    this.#random = random;
    this.#words = words;
  }

  /**
   * @param {Buffer} input
   * @param {Buffer} other what pieces are taken from
   */
  mutated(input, other) {
    const keepsMarkup = this.#random.chance(0.5); // most other changes end at the XML reader
    let changed = input;
    for (let left = 2 ** this.#random.below(4); left > 0; left--) {
      changed = keepsMarkup ? this.#valueReplaced(changed) : this.#once(changed, other);
    }
    return changed.subarray(0, LARGEST);
  }

  /** @param {Buffer} input @param {Buffer} other */
  #once(input, other) {
    const random = this.#random;
    const at = random.below(input.length + 1);
    const length = random.between(1, 2 ** random.between(0, 10));
    const from = random.below(other.length + 1);
    const word = random.pick(this.#words);
    switch (random.below(8)) {
      case 0:
        return replaced(input, at, 1, Buffer.from([(input[at] ?? 0) ^ (1 << random.below(8))]));
      case 1:
        return replaced(input, at, 1, Buffer.from([random.chance(0.5) ? random.pick(INTERESTING) : random.below(256)]));
      case 2:
        return replaced(input, at, length, Buffer.alloc(0));
      case 3:
        return replaced(input, at, 0, input.subarray(from, from + length));
      case 4:
        return replaced(input, at, random.chance(0.5) ? length : 0, other.subarray(from, from + length));
      case 5:
        return replaced(input, at, 0, word);
      case 6:
        return replaced(input, at, word.length, word);
      default:
        return this.#valueReplaced(input);
    }
  }

  /** @param {Buffer} input */
  #valueReplaced(input) {
    const word = this.#random.pick(this.#words);
    const text = input.toString('latin1');
    const values = [...text.matchAll(VALUE)];
    const chosen = values[this.#random.below(values.length)];
    if (chosen === undefined) return replaced(input, 0, 0, word);
    const another = this.#random.pick(values)[0].slice(1, -1);
    const value = this.#random.pick([word, Buffer.from(another, 'latin1'), Buffer.from(this.#random.pick(HOSTILE))]);
    return replaced(input, chosen.index + 1, chosen[0].length - 2, value);
  }
}

/** @param {Buffer} input @param {number} at @param {number} length @param {Uint8Array} bytes */
function replaced(input, at, length, bytes) {
  return Buffer.concat([input.subarray(0, at), bytes, input.subarray(at + length)]);
}
