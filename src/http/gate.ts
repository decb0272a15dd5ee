/** Lets a number of holders in at once and a bounded number wait for their turn, first come first served. */
export class Gate {
  readonly #atOnce: number;
  readonly #mostWaiting: number;
  readonly #waiting = new Set<() => void>();
  #inside = 0;

  constructor(atOnce: number, mostWaiting: number) {
    this.#atOnce = atOnce;
    this.#mostWaiting = mostWaiting;
  }

  get inside(): number {
    return this.#inside;
  }

  get waiting(): number {
    return this.#waiting.size;
  }

  /** Whether the next one can neither enter nor wait. */
  get isFull(): boolean {
    return this.#inside >= this.#atOnce && this.#waiting.size >= this.#mostWaiting;
  }

  /** Waits for a place, which has to be given back by {@link leave}; rejects with the signal's reason. */
  async enter(signal: AbortSignal): Promise<void> {
    signal.throwIfAborted();
    if (this.#inside < this.#atOnce) {
      this.#inside++;
      return;
    }
    await new Promise<void>((resolve, reject) => {
      const enter = () => {
        signal.removeEventListener('abort', giveUp);
        resolve();
      };
      const giveUp = () => {
        this.#waiting.delete(enter);
        reject(signal.reason);
      };
      this.#waiting.add(enter);
      signal.addEventListener('abort', giveUp, { once: true });
    });
  }

  /** Gives the place to whoever waits longest. */
  leave(): void {
    const [next] = this.#waiting;
    if (next === undefined) {
      this.#inside--;
      return;
    }
    this.#waiting.delete(next);
    next();
  }
}
