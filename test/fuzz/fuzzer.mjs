// @ts-check
import { Mutator } from './mutator.mjs';

/**
 * A fuzzer that is guided by coverage: an input that takes a way nobody took before, or takes one more often by an order,
 * is kept and changed further.
 *
 * @typedef {import('../support/campus/random.mjs').Random} Random
 *
 * @typedef {object} FuzzerOptions
 * @property {(input: Buffer) => unknown} target throws, or rejects, where something does not hold
 * @property {Uint8ClampedArray} edges the counters of the instrumented modules
 * @property {Random} random
 * @property {readonly Buffer[]} words
 * @property {(input: Buffer) => string} [kindOf] inputs of each kind are changed as often as those of any other
 * @property {boolean} [isGuided] false: keeps nothing but the seeds, to see what guidance is worth
 */
export class Fuzzer {
  #options;
  #mutator;
  /** Which orders of how often each edge was seen, one bit each. */
  #seen;
  runs = 0;
  /** The inputs that were kept, by kind. @type {Map<string, { input: Buffer, reach: number }[]>} */
  #corpus = new Map();

  /** @param {FuzzerOptions} options */
  constructor(options) {
    this.#options = options;
    this.#mutator = new Mutator(options.random, options.words);
    this.#seen = new Uint8Array(options.edges.length);
  }

  /** How many inputs were kept. */
  get kept() {
    return [...this.#corpus.values()].flat().length;
  }

  /** The numbers of the edges that were taken so far. */
  get reached() {
    return [...this.#seen.keys()].filter((edge) => this.#seen[edge] !== 0);
  }

  /**
   * Runs an input that is known, and keeps it if it is of use.
   * @param {Buffer} input
   */
  async seed(input) {
    const isNew = await this.#isNew(input);
    if (isNew) this.#keep(input);
    return isNew;
  }

  /** Runs one new input. @returns {Promise<Buffer | undefined>} the input, if it was worth keeping */
  async step() {
    const input = this.#mutator.mutated(this.#pick(), this.#pick());
    const isNew = await this.#isNew(input);
    if (!isNew || this.#options.isGuided === false) return undefined;
    this.#keep(input);
    return input;
  }

  /** Of three inputs of any kind the one that gets furthest: most inputs are kept for a new way to be refused early. */
  #pick() {
    const { random } = this.#options;
    const inputs = random.pick([...this.#corpus.values()]);
    const drawn = [random.pick(inputs), random.pick(inputs), random.pick(inputs)];
    return drawn.reduce((best, one) => (one.reach > best.reach ? one : best)).input;
  }

  /** @param {Buffer} input */
  #keep(input) {
    const kind = this.#options.kindOf?.(input) ?? '';
    const alike = this.#corpus.get(kind) ?? [];
    alike.push({ input, reach: this.#options.edges.filter((count) => count > 0).length });
    this.#corpus.set(kind, alike);
  }

  /** @param {Buffer} input */
  async #isNew(input) {
    const { target, edges } = this.#options;
    edges.fill(0);
    await target(input);
    this.runs++;
    let isNew = false;
    for (let edge = 0; edge < edges.length; edge++) {
      const count = edges[edge] ?? 0;
      if (count === 0) continue;
      const order = 1 << (31 - Math.clz32(count));
      const known = this.#seen[edge] ?? 0;
      if ((known & order) !== 0) continue;
      this.#seen[edge] = known | order;
      isNew = true;
    }
    return isNew;
  }
}
