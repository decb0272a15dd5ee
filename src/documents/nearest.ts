import leven from 'leven';

/** So many names are told of. */
const MOST_NEAREST = 3;

/** Longer names are not compared: nobody mistypes them, and the work grows with the square of the length. */
const LONGEST = 60;

/**
 * So many pairs of characters are compared for one sheet, less than a second's work. A sheet whose names are all wrong is for
 * another archive, and the nearest names of the first ones tell as much.
 */
const MOST_WORK = 500_000_000;

/** Finds names that are like one that is not there, and stops once it has worked enough. */
export class Nearest {
  #work = 0;

  constructor(readonly mostWork = MOST_WORK) {}

  /** Pairs of characters that were compared, at most, and names that were passed over. */
  get work(): number {
    return this.#work;
  }

  /**
   * At most three names, the most like first; of names that are as like, by their characters. A name is like another
   * where at most a third of it, and no less than one character, has to be changed; case does not count.
   * @param names asked for only where there is work to do
   * @returns none where nothing is like it, or there has been enough work
   */
  to(name: string, names: () => Iterable<string>): readonly string[] {
    if (name.length > LONGEST || this.#work > this.mostWork) return [];
    const wanted = name.toLowerCase();
    const most = Math.max(1, Math.floor(name.length / 3));
    const found = new Map<string, number>();
    for (const one of names()) {
      const isComparable = one.length <= LONGEST && Math.abs(one.length - name.length) <= most;
      this.#work += isComparable ? one.length * name.length : 1;
      if (this.#work > this.mostWork) break;
      if (!isComparable || found.has(one)) continue;
      const distance = leven(wanted, one.toLowerCase(), { maxDistance: most + 1 });
      if (distance <= most) found.set(one, distance);
    }
    const sorted = [...found].sort(([a, far], [b, further]) => far - further || (a < b ? -1 : 1));
    return sorted.slice(0, MOST_NEAREST).map(([one]) => one);
  }
}

/** The end of an error's text: which names are meant perhaps. @param shown as the names stand in it */
export function nearestText(shown: readonly string[]): string {
  return shown.length === 0 ? '' : `; nearest: ${shown.join(', ')}`;
}
