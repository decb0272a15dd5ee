import { at, type Bins } from './bins.js';

/** Items of one kind or of one group that change segments together. */
interface Cargo {
  readonly items: readonly (readonly [kind: number, count: number])[];
  readonly units: number;
  readonly count: number;
  /** Places that they take. */
  readonly taken: number;
  readonly group: number;
}

interface Change {
  readonly from: number;
  readonly to: number;
  readonly there: Cargo;
  readonly back: Cargo | null;
  /** Groups torn more (or fewer, below 0). */
  readonly torn: number;
  /** The greater load of the two segments afterwards. */
  readonly greater: number;
}

/** Enough in practice; a bound so that no load takes long. */
const MOST_CHANGES = 400;

/**
 * Moves and exchanges between two segments for as long as one of them tears fewer groups, or as many with a lower greatest load.
 * Each change lowers the torn groups, or the sum of the squares of the loads: it ends.
 */
export function improved(bins: Bins): Bins {
  for (let changes = 0; changes < MOST_CHANGES; changes++) {
    const best = bestChange(bins);
    if (best === null) break;
    shift(bins, best.there, best.from, best.to);
    if (best.back !== null) shift(bins, best.back, best.to, best.from);
  }
  return bins;
}

function shift(bins: Bins, { items }: Cargo, from: number, to: number): void {
  for (const [kind, count] of items) {
    bins.put(from, kind, -count);
    bins.put(to, kind, count);
  }
}

function bestChange(bins: Bins): Change | null {
  const heaviest = bins.loads.indexOf(Math.max(...bins.loads));
  const whole = bins.loads.map((_, bin) => groupsIn(bins, bin));
  let best: Change | null = null;
  for (const from of bins.loads.keys()) {
    for (const to of bins.loads.keys()) {
      const lighter = from === heaviest;
      if (from === to || !(lighter || shareGroup(bins, from, to))) continue;
      best = bestBetween({ bins, from, to, lighter }, at(whole, from), at(whole, to), best);
      if (lighter) best = bestBetween({ bins, from, to, lighter }, kindsIn(bins, from), kindsIn(bins, to), best);
    }
  }
  return best;
}

/** Only between such segments can a change tear fewer groups. */
function shareGroup({ ofGroup }: Bins, one: number, other: number): boolean {
  return at(ofGroup, one).some((count, group) => count > 0 && at(at(ofGroup, other), group) > 0);
}

function groupsIn(bins: Bins, bin: number): Cargo[] {
  const { groups, kinds } = bins.load;
  const present = groups.map((_, group) => group).filter((group) => at(at(bins.ofGroup, bin), group) > 0);
  return present.map((group) => {
    const items = at(groups, group).kinds.map((kind) => [kind, at(at(bins.counts, bin), kind)] as const);
    const units = items.reduce((sum, [kind, count]) => sum + count * at(kinds, kind).units, 0);
    const taken = items.reduce((sum, [kind, count]) => sum + count * at(kinds, kind).places, 0);
    return { items, units, taken, count: at(at(bins.ofGroup, bin), group), group };
  });
}

function kindsIn(bins: Bins, bin: number): Cargo[] {
  const present = [...bins.load.kinds.entries()].filter(([kind]) => at(at(bins.counts, bin), kind) > 0);
  return present.map(([kind, { units, places, group }]) => {
    return { items: [[kind, 1]], units, count: 1, taken: places, group };
  });
}

/** Two segments, and whether the first is one whose load is to become less. */
interface Pair {
  readonly bins: Bins;
  readonly from: number;
  readonly to: number;
  readonly lighter: boolean;
}

function bestBetween(pair: Pair, there: readonly Cargo[], back: readonly Cargo[], best: Change | null): Change | null {
  let found = best;
  for (const one of there) {
    for (const other of [null, ...back]) {
      const change = changeOf(pair, one, other);
      if (change === null || change.torn > 0) continue;
      if (change.torn === 0 && !(pair.lighter && change.greater < at(pair.bins.loads, pair.from))) continue;
      if (
        found === null ||
        change.torn < found.torn ||
        (change.torn === found.torn && change.greater < found.greater)
      ) {
        found = change;
      }
    }
  }
  return found;
}

/** Null where it does not fit, or changes nothing but names. */
function changeOf({ bins, from, to }: Pair, there: Cargo, back: Cargo | null): Change | null {
  if (back?.group === there.group && back.units === there.units) return null;
  const units = there.units - (back?.units ?? 0);
  const taken = there.taken - (back?.taken ?? 0);
  if (units > bins.room(to) || -units > bins.room(from) || taken > bins.places(to) || -taken > bins.places(from))
    return null;
  const torn =
    back?.group === there.group
      ? 0
      : tornBy(bins, from, to, there) + (back === null ? 0 : tornBy(bins, to, from, back));
  const greater = Math.max(at(bins.loads, from) - units, at(bins.loads, to) + units);
  return { from, to, there, back, torn, greater };
}

function tornBy(bins: Bins, from: number, to: number, { group, count }: Cargo): number {
  const arrives = at(at(bins.ofGroup, to), group) === 0 ? 1 : 0;
  return arrives - (at(at(bins.ofGroup, from), group) === count ? 1 : 0);
}
