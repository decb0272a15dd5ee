import type { Load } from './load.js';

/** How many of each kind stand in each segment. */
export type Packing = readonly (readonly number[])[];

/** The three objectives of a packing. */
export interface Score {
  readonly segments: number;
  readonly torn: number;
  /** Greatest load of a segment, in units of the load. */
  readonly greatest: number;
}

/** Segments being filled; what they hold is kept along with them. */
export class Bins {
  readonly counts: number[][];
  readonly loads: number[];
  readonly held: number[];
  /** Items of each group in each segment. */
  readonly ofGroup: number[][];

  /** @param capacity of each, where less than the load's is wanted */
  constructor(
    readonly load: Load,
    readonly size: number,
    readonly capacity = load.capacity,
  ) {
    this.counts = Array.from({ length: size }, () => load.kinds.map(() => 0));
    this.loads = Array.from({ length: size }, () => 0);
    this.held = Array.from({ length: size }, () => 0);
    this.ofGroup = Array.from({ length: size }, () => load.groups.map(() => 0));
  }

  /** Items of a kind, or fewer than none to take them out. */
  put(bin: number, kind: number, count: number): void {
    const { units, group, places } = at(this.load.kinds, kind);
    add(at(this.counts, bin), kind, count);
    add(this.loads, bin, units * count);
    add(this.held, bin, places * count);
    add(at(this.ofGroup, bin), group, count);
  }

  room(bin: number): number {
    return this.capacity - at(this.loads, bin);
  }

  places(bin: number): number {
    return this.load.places - at(this.held, bin);
  }
}

export function filled(load: Load, packing: Packing): Bins {
  const bins = new Bins(load, packing.length);
  for (const [bin, counts] of packing.entries()) {
    for (const [kind, count] of counts.entries()) bins.put(bin, kind, count);
  }
  return bins;
}

export function scoreOf({ load, held, loads, ofGroup }: Bins): Score {
  const spread = ofGroup.reduce((sum, counts) => sum + counts.filter((count) => count > 0).length, 0);
  return {
    segments: held.filter((count) => count > 0).length,
    torn: spread - load.groups.length,
    greatest: Math.max(0, ...loads),
  };
}

/** Below 0 where the first is better. */
export function byScore(a: Score, b: Score): number {
  return a.segments - b.segments || a.torn - b.torn || a.greatest - b.greatest;
}

/** Whether every item stands somewhere, once, and no segment holds more than it can. */
export function holds(load: Load, packing: Packing): boolean {
  const whole = packing.every((counts) => counts.every((count) => Number.isInteger(count) && count >= 0));
  if (!whole || packing.some((counts) => counts.length !== load.kinds.length)) return false;
  const bins = filled(load, packing);
  const every = load.kinds.every(
    ({ members }, kind) => bins.counts.reduce((sum, counts) => sum + at(counts, kind), 0) === members.length,
  );
  return every && packing.every((_, bin) => bins.room(bin) >= 0 && bins.places(bin) >= 0);
}

/** An element that is known to be there. */
export function at<T>(list: ArrayLike<T>, index: number): T {
  return list[index] as T;
}

function add(list: number[], index: number, amount: number): void {
  list[index] = at(list, index) + amount;
}
