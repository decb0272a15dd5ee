import type { Installation } from '../plant/plant.js';

/** Line addresses of an area: 0 is its main line (volume 3/2/2 §1.3). */
const LAST_LINE = 15;

/** The line addresses of each area that no line has, and no plan has taken. */
export class FreeLines {
  readonly #taken: Set<string>;

  constructor({ lines }: Installation) {
    this.#taken = new Set(lines.map(({ address }) => address));
  }

  /** Rising. */
  of(area: number): number[] {
    const all = Array.from({ length: LAST_LINE }, (_, at) => at + 1);
    return all.filter((line) => !this.#taken.has(`${area}.${line}`));
  }

  take(area: number, lines: readonly number[]): void {
    for (const line of lines) this.#taken.add(`${area}.${line}`);
  }
}
