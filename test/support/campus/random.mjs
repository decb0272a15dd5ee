// @ts-check

/** Pseudo-random numbers from a seed (mulberry32), so that a generated archive is the same on every machine. */
export class Random {
  #state;

  /** @param {number} seed */
  constructor(seed) {
    this.#state = seed >>> 0;
  }

  /** A number from 0 to below 1. */
  next() {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let bits = this.#state;
    bits = Math.imul(bits ^ (bits >>> 15), bits | 1);
    bits ^= bits + Math.imul(bits ^ (bits >>> 7), bits | 61);
    return ((bits ^ (bits >>> 14)) >>> 0) / 4294967296;
  }

  /**
   * A whole number from 0 to below a bound.
   * @param {number} bound
   */
  below(bound) {
    return Math.floor(this.next() * bound);
  }

  /**
   * A whole number from least to most, both included.
   * @param {number} least
   * @param {number} most
   */
  between(least, most) {
    return least + this.below(most - least + 1);
  }

  /** @param {number} probability */
  chance(probability) {
    return this.next() < probability;
  }

  /**
   * @template T
   * @param {readonly T[]} list
   * @returns {T}
   */
  pick(list) {
    return /** @type {T} */ (list[this.below(list.length)]);
  }

  /**
   * Hexadecimal digits, upper case.
   * @param {number} digits
   */
  hex(digits) {
    let text = '';
    while (text.length < digits) text += this.below(16).toString(16);
    return text.toUpperCase();
  }

  /**
   * Random bytes in base 64.
   * @param {number} bytes
   */
  base64(bytes) {
    return Buffer.from(Array.from({ length: bytes }, () => this.below(256))).toString('base64');
  }
}
