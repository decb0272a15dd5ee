import type { MatchedBy } from './comparison.js';

/** One thing of the old report and what it is in the new one. */
export interface Pair<T> {
  readonly old: T;
  readonly new: T;
  readonly matchedBy: MatchedBy;
}

export interface Paired<T> {
  /** In the order of the new report. */
  readonly pairs: readonly Pair<T>[];
  readonly onlyOld: readonly T[];
  readonly onlyNew: readonly T[];
}

/** What things are matched by; one whose key is null is left to the passes that follow. */
export interface Pass<T> {
  readonly matchedBy: MatchedBy;
  readonly oldKey: (item: T) => string | null;
  readonly newKey: (item: T) => string | null;
}

/** A pass that looks at both reports in the same way. */
export function passBy<T>(matchedBy: MatchedBy, key: (item: T) => string | null): Pass<T> {
  return { matchedBy, oldKey: key, newKey: key };
}

/**
 * Pairs what two reports hold, pass by pass, each pass what the earlier ones left over. Of several with one key the
 * first goes with the first, so that it does not matter which report is called the old one.
 */
export function pairUp<T>(old: readonly T[], fresh: readonly T[], passes: readonly Pass<T>[]): Paired<T> {
  const partners: (Pair<T> | undefined)[] = fresh.map(() => undefined);
  let leftOld = old;
  for (const { matchedBy, oldKey, newKey } of passes) {
    const waiting = new Waiting(leftOld, oldKey);
    fresh.forEach((item, index) => {
      const key = partners[index] === undefined ? newKey(item) : null;
      const partner = key === null ? undefined : waiting.take(key);
      if (partner !== undefined) partners[index] = { old: partner.item, new: item, matchedBy };
    });
    leftOld = waiting.left();
  }
  return {
    pairs: partners.filter((pair) => pair !== undefined),
    onlyOld: leftOld,
    onlyNew: fresh.filter((_, index) => partners[index] === undefined),
  };
}

/** Things that wait for a partner with their key, first come, first served. */
class Waiting<T> {
  readonly #queues = new Map<string, { readonly positions: number[]; next: number }>();
  readonly #taken = new Set<number>();

  constructor(
    readonly items: readonly T[],
    key: (item: T) => string | null,
  ) {
    items.forEach((item, position) => {
      const found = key(item);
      if (found === null) return;
      const queue = this.#queues.get(found);
      if (queue === undefined) this.#queues.set(found, { positions: [position], next: 0 });
      else queue.positions.push(position);
    });
  }

  take(key: string): { readonly item: T } | undefined {
    const queue = this.#queues.get(key);
    const position = queue?.positions[queue.next];
    if (queue === undefined || position === undefined) return undefined;
    queue.next++;
    this.#taken.add(position);
    return { item: this.items[position] as T };
  }

  left(): T[] {
    return this.items.filter((_, position) => !this.#taken.has(position));
  }
}
