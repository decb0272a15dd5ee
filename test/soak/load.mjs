// @ts-check
import { setTimeout as wait } from 'node:timers/promises';
import { Random } from '../support/campus/random.mjs';
import { Client } from './client.mjs';

/**
 * Keeps clients busy with a random mix of requests, and takes the time of each.
 *
 * @typedef {import('./mix.mjs').Kind} Kind
 */
export class Load {
  /** Milliseconds by kind. @type {Map<string, number[]>} */
  times = new Map();
  /** What was not as it is due. @type {string[]} */
  wrong = [];
  #kinds;
  #client;
  #isOver = false;
  /** @type {Promise<void>[]} */
  #running = [];

  /**
   * @param {{ kinds: readonly Kind[], port: number, seed: number, clients: number, answerWithinMs: number }} options
   */
  constructor({ kinds, port, seed, clients, answerWithinMs }) {
    this.#kinds = kinds;
    this.#client = new Client(port, answerWithinMs);
    const loops = Array.from({ length: clients }, (_, index) => this.#keepBusy(new Random(seed + index)));
    this.#running = [...loops, this.#askForHealth()];
  }

  /** Lets what is under way come to its end. */
  async end() {
    this.#isOver = true;
    await Promise.all(this.#running);
    this.#client.close();
  }

  /** @param {Random} random */
  async #keepBusy(random) {
    while (!this.#isOver) {
      const { name, send } = drawn(this.#kinds, random);
      await this.#timed(name, () => send(this.#client, random));
    }
  }

  async #askForHealth() {
    while (!this.#isOver) {
      await this.#timed('health', async () => {
        const { status, body } = await this.#client.send({ method: 'GET', path: '/healthz', kept: true });
        if (status !== 200) throw new Error(`health: answered ${status} ${body}`);
      });
      await wait(50);
    }
  }

  /** @param {string} name @param {() => Promise<unknown>} send */
  async #timed(name, send) {
    const start = performance.now();
    try {
      await send();
    } catch (error) {
      this.wrong.push(`${name}: ${/** @type {Error} */ (error).message}`);
    }
    const times = this.times.get(name) ?? [];
    times.push(performance.now() - start);
    this.times.set(name, times);
  }
}

/** One of the kinds, by their weights. @param {readonly Kind[]} kinds @param {Random} random */
function drawn(kinds, random) {
  let left = random.next() * kinds.reduce((sum, { weight }) => sum + weight, 0);
  for (const kind of kinds) {
    left -= kind.weight;
    if (left < 0) return kind;
  }
  return /** @type {Kind} */ (kinds[0]);
}
