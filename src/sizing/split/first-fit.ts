import { at, Bins, byScore, type Packing, scoreOf } from './bins.js';
import { improved } from './improve.js';
import type { Load } from './load.js';

/** How a segment is chosen among those that can take all there is to place. */
type Choice = 'first' | 'fullest' | 'emptiest';

/** When a group that fits nowhere as a whole is torn: in its turn, or once the others stand. */
type Tearing = 'in turn' | 'at the end';

const CHOICES: readonly Choice[] = ['first', 'fullest', 'emptiest'];
/** Packings worth improving: that takes longer than making them. */
const MOST_IMPROVED = 8;

const TEARINGS: readonly Tearing[] = ['in turn', 'at the end'];

/**
 * First-fit decreasing by group, in several orders: whole groups, then what has to be torn; and, for loads that fill
 * the segments too tightly for that, item by item. The best of them, improved in place, into the fewest segments that
 * any of them gets by with.
 * The same problem always gives the same packing.
 * @param least segments to begin with; every item must fit into one
 */
export function firstFit(load: Load, least: number): Packing {
  for (let size = least; ; size++) {
    const packing = bestInto(load, size);
    if (packing !== null || size >= load.count) return packing ?? [];
  }
}

/** The best first; of equals the earlier. */
function best(packed: readonly Bins[]): Bins[] {
  const scored = packed.map((bins) => ({ bins, score: scoreOf(bins) }));
  return scored.sort((a, b) => byScore(a.score, b.score)).map(({ bins }) => bins);
}

/** The best of all orders into so many segments, or null. */
function bestInto(load: Load, size: number): Packing | null {
  const tries = ordersOf(load).flatMap((order) =>
    CHOICES.flatMap((choice) => TEARINGS.map((tearing) => byGroup(new Bins(load, size), order, choice, tearing))),
  );
  const items = CHOICES.map((choice) => byItem(new Bins(load, size), choice));
  const packed = [...tries, ...items].filter((bins) => bins !== null);
  return best(best(packed).slice(0, MOST_IMPROVED).map(improved))[0]?.counts ?? null;
}

function ordersOf({ groups }: Load): number[][] {
  const indices = groups.map((_, index) => index);
  const by = (value: (group: number) => number) => [...indices].sort((a, b) => value(b) - value(a) || a - b);
  return [
    by((group) => at(groups, group).units),
    by((group) => at(groups, group).count),
    by((group) => -at(groups, group).units),
    indices,
  ];
}

function byGroup(bins: Bins, order: readonly number[], choice: Choice, tearing: Tearing): Bins | null {
  const later: number[] = [];
  for (const group of order) {
    const { units, taken } = at(bins.load.groups, group);
    const bin = chosen(bins, choice, units, taken);
    if (bin !== undefined) pour(bins, bin, group);
    else if (tearing === 'at the end') later.push(group);
    else if (!tear(bins, group)) return null;
  }
  return later.every((group) => tear(bins, group)) ? bins : null;
}

function byItem(bins: Bins, choice: Choice): Bins | null {
  const kinds = [...bins.load.kinds.entries()].sort(([, a], [, b]) => b.units - a.units || a.group - b.group);
  for (const [kind, { units, places, members }] of kinds) {
    for (const _ of members) {
      const bin = chosen(bins, choice, units, places);
      if (bin === undefined) return null;
      bins.put(bin, kind, 1);
    }
  }
  return bins;
}

function chosen(bins: Bins, choice: Choice, units: number, places: number): number | undefined {
  const able = bins.loads.map((_, bin) => bin).filter((bin) => bins.room(bin) >= units && bins.places(bin) >= places);
  if (choice === 'first') return able[0];
  const sign = choice === 'fullest' ? 1 : -1;
  return able.sort((a, b) => sign * (bins.room(a) - bins.room(b)) || a - b)[0];
}

/** Into as few segments as come of taking the one that can take most, again and again; the rest goes where it fits tightest. */
function tear(bins: Bins, group: number): boolean {
  let left = at(bins.load.groups, group).count;
  while (left > 0) {
    const portions = bins.loads.map((_, bin) => ({ bin, ...portionOf(bins, bin, group) }));
    const most = portions.sort(
      (a, b) => b.units - a.units || b.count - a.count || bins.room(a.bin) - bins.room(b.bin) || a.bin - b.bin,
    )[0];
    if (most === undefined || most.count === 0) return false;
    left -= pour(bins, most.bin, group);
  }
  return true;
}

/**
 * As much of what is left of a group as the segment can take, the greatest currents first.
 * @returns the items poured
 */
export function pour(bins: Bins, bin: number, group: number): number {
  const { taken, count } = portionOf(bins, bin, group);
  for (const [kind, items] of taken) bins.put(bin, kind, items);
  return count;
}

function portionOf(bins: Bins, bin: number, group: number) {
  const taken: [kind: number, items: number][] = [];
  let [units, count, held] = [0, 0, 0];
  for (const kind of at(bins.load.groups, group).kinds) {
    const { units: each, places } = at(bins.load.kinds, kind);
    const fit = each === 0 ? Number.POSITIVE_INFINITY : Math.floor((bins.room(bin) - units) / each);
    const items = Math.min(leftOf(bins, kind), fit, Math.floor((bins.places(bin) - held) / places));
    if (items <= 0) continue;
    taken.push([kind, items]);
    units += items * each;
    count += items;
    held += items * places;
  }
  return { taken, units, count };
}

function leftOf({ load, counts }: Bins, kind: number): number {
  return counts.reduce((left, placed) => left - at(placed, kind), at(load.kinds, kind).members.length);
}
