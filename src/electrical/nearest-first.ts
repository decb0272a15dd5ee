/** A point, and the length of the way to it, m. */
interface Reached {
  readonly point: number;
  readonly lengthM: number;
}

/** A queue that gives the nearest of its points first: a binary heap. */
export class NearestFirst {
  /** Each is no farther than the two at twice its place and one or two more. */
  readonly #heap: Reached[] = [];

  add(reached: Reached): void {
    let at = this.#heap.length;
    while (at > 0) {
      const above = (at - 1) >> 1;
      const upper = this.#heap[above];
      if (upper === undefined || upper.lengthM <= reached.lengthM) break;
      this.#heap[at] = upper;
      at = above;
    }
    this.#heap[at] = reached;
  }

  /** @returns undefined if none is left */
  take(): Reached | undefined {
    const nearest = this.#heap[0];
    const last = this.#heap.pop();
    if (last !== undefined && this.#heap.length > 0) this.#sink(last);
    return nearest;
  }

  /** Puts one in from the top, in place of what was there. */
  #sink(reached: Reached): void {
    let at = 0;
    for (;;) {
      const below = this.#nearerBelow(at);
      const lower = this.#heap[below];
      if (lower === undefined || lower.lengthM >= reached.lengthM) break;
      this.#heap[at] = lower;
      at = below;
    }
    this.#heap[at] = reached;
  }

  #nearerBelow(at: number): number {
    const left = 2 * at + 1;
    const [one, other] = [this.#heap[left], this.#heap[left + 1]];
    return one !== undefined && other !== undefined && other.lengthM < one.lengthM ? left + 1 : left;
  }
}
