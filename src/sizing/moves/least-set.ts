import { greatest, sum } from '../../units.js';

/** Some of the devices that may move. */
export interface DeviceSet {
  /** Rising, among the currents that were given. */
  readonly positions: readonly number[];
  readonly ua: number;
}

/** What a segment can take. */
export interface Room {
  readonly roomUa: number;
  readonly places: number;
}

/** A sum that a smaller number of devices reaches than any sum below it. */
interface Step {
  readonly units: number;
  readonly count: number;
}

/** More cells than this are not worked out for a segment in one nearness: some milliseconds and 4 MB. */
export const MOST_CELLS = 2_000_000;

/** No set of devices reaches the sum. Counts stay below: neither devices nor units are so many within {@link MOST_CELLS}. */
const NEVER = 0xffff;

/**
 * Finds the least set of devices whose currents add up to a need, and to no more than there is room for: the fewest, of
 * these the least current, and of these the first in the order given. Exact by dynamic programming over the sums, in
 * units of the greatest common divisor of the currents. A least set less any of its devices falls short of the need, so
 * no sum from the need plus the greatest current on matters, and one table serves every room.
 *
 * Where the currents are too fine for that, only devices that are neighbours by current are tried together.
 */
export class LeastSets {
  /** No fewer can add up to the need; infinite where all together do not. */
  readonly fewest: number;
  /** False where a set that is found may not be the least, and one may be there where none is found. */
  readonly isExact: boolean;
  /** Cells of the table. */
  readonly cells: number;
  readonly #unitUa: number;
  readonly #leastUnits: number;
  readonly #mostUnits: number;
  /** By the first device that may be taken and by the sum: how few devices give exactly it. Null where it is not exact. */
  readonly #table: readonly Uint16Array[] | null;
  readonly #steps: readonly Step[];

  /**
   * @param currentsUa whole µA above 0 @param needUa above 0
   * @param mostCells what the table may have at most
   */
  constructor(
    readonly currentsUa: readonly number[],
    readonly needUa: number,
    mostCells: number = MOST_CELLS,
  ) {
    this.fewest = fewestFor(currentsUa, needUa);
    this.#unitUa = currentsUa.reduce(greatestCommonDivisor, 0) || 1;
    this.#leastUnits = Math.ceil(needUa / this.#unitUa);
    this.#mostUnits = this.#leastUnits - 1 + Math.max(0, greatest(currentsUa)) / this.#unitUa;
    const cells = (currentsUa.length + 1) * (this.#mostUnits + 1);
    const isPossible = Number.isFinite(this.fewest);
    this.isExact = !isPossible || cells <= mostCells;
    this.cells = isPossible && this.isExact ? cells : 0;
    this.#table = this.cells > 0 ? this.#worked() : null;
    this.#steps = this.#table === null ? [] : this.#stepsDown(this.#table);
  }

  /** The least set that a segment can take; null where there is none, or none is found. */
  within(room: Room): DeviceSet | null {
    if (this.fewest > room.places || this.needUa > room.roomUa) return null;
    return this.#table === null ? this.#neighbours(room) : this.#exact(this.#table, room);
  }

  #worked(): Uint16Array[] {
    const nothing = new Uint16Array(this.#mostUnits + 1).fill(NEVER);
    nothing[0] = 0;
    const rows = [nothing];
    for (const ua of this.currentsUa.toReversed()) {
      const after = rows.at(-1) ?? nothing;
      const row = Uint16Array.from(after);
      const units = ua / this.#unitUa;
      for (let total = units; total <= this.#mostUnits; total++) {
        const count = (after[total - units] ?? NEVER) + 1;
        if (count < (row[total] ?? NEVER)) row[total] = count;
      }
      rows.push(row);
    }
    return rows.reverse();
  }

  #stepsDown([whole]: readonly Uint16Array[]): Step[] {
    const steps: Step[] = [];
    let count = NEVER;
    for (let units = this.#leastUnits; units <= this.#mostUnits; units++) {
      const fewer = whole?.[units] ?? NEVER;
      if (fewer >= count) continue;
      count = fewer;
      steps.push({ units, count });
    }
    return steps;
  }

  #exact(table: readonly Uint16Array[], { roomUa, places }: Room): DeviceSet | null {
    const step = this.#steps.findLast(({ units }) => units * this.#unitUa <= roomUa);
    if (step === undefined || step.count > places) return null;
    const positions: number[] = [];
    let { units, count } = step;
    for (const [position, ua] of this.currentsUa.entries()) {
      const left = units - ua / this.#unitUa;
      if (left < 0 || table[position + 1]?.[left] !== count - 1) continue;
      positions.push(position);
      units = left;
      count--;
      if (count === 0) break;
    }
    return { positions, ua: step.units * this.#unitUa };
  }

  #neighbours({ roomUa, places }: Room): DeviceSet | null {
    const rising = [...this.currentsUa.entries()].sort(([a, aUa], [b, bUa]) => aUa - bUa || a - b);
    const sums = [0];
    for (const [, ua] of rising) sums.push((sums.at(-1) ?? 0) + ua);
    const sumOf = (from: number, count: number) => (sums[from + count] ?? 0) - (sums[from] ?? 0);
    for (let count = this.fewest; count <= Math.min(places, rising.length); count++) {
      const from = firstThat((at) => sumOf(at, count) >= this.needUa, rising.length - count);
      const ua = sumOf(from, count);
      if (ua > roomUa) continue;
      const positions = rising.slice(from, from + count).map(([position]) => position);
      return { positions: positions.sort((a, b) => a - b), ua };
    }
    return null;
  }
}

/** The first number of those up to `last` that holds, where with one all later ones do, and the last one does. */
function firstThat(holds: (at: number) => boolean, last: number): number {
  let [from, to] = [0, last];
  while (from < to) {
    const middle = Math.floor((from + to) / 2);
    if (holds(middle)) to = middle;
    else from = middle + 1;
  }
  return to;
}

function fewestFor(currentsUa: readonly number[], needUa: number): number {
  if (sum(currentsUa) < needUa) return Number.POSITIVE_INFINITY;
  let [count, total] = [0, 0];
  for (const ua of currentsUa.toSorted((a, b) => b - a)) {
    if (total >= needUa) break;
    total += ua;
    count++;
  }
  return count;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
