import { at } from './bins.js';
import type { Load } from './load.js';

/** Groups that share their segments with no other group. */
export interface Part {
  readonly groups: readonly number[];
  readonly segments: number;
}

export interface PartsBound {
  /** No packing tears fewer. */
  readonly torn: number;
  /** Least greatest load by the groups torn, units of the load: that of at most so many; infinite where none can be. */
  readonly greatest: readonly number[];
  /** A division of the groups with the bound's `torn`, and the least greatest load of those. */
  readonly parts: readonly Part[];
}

/** Subsets of subsets of the groups are gone through, 3 to the power of their number. */
const MOST_GROUPS = 12;

/**
 * What holds of every packing into just so many segments, none of them empty. Take groups and segments as the points of a graph,
 * with an edge where a group has items in a segment. A connected part of g groups and s segments has at least g + s − 1 edges, so
 * all c parts together at least G + m − c, and as torn = edges − G: torn ≥ m − c. A part can only be if its segments
 * hold its load and its items, and one of them carries the mean of the part or more. What is left is to go through
 * the divisions of the groups into parts (derived here).
 * @param mostTorn what is known to be enough; divisions that tear more are not gone through
 * @returns null where there are too many groups to go through
 */
export function partsBound(load: Load, segments: number, mostTorn: number): PartsBound | null {
  if (load.groups.length > MOST_GROUPS) return null;
  const table = new Divisions(load, segments, Math.min(mostTorn, segments - 1));
  const greatest = table.ends();
  const torn = greatest.findIndex(Number.isFinite);
  if (torn < 0) return null;
  const running = greatest.map((_, upTo) => Math.min(...greatest.slice(0, upTo + 1)));
  return { torn, greatest: running, parts: table.division(torn) };
}

/** For each set of groups, segments used and groups torn: the least greatest mean of a part, and the last part. */
class Divisions {
  private readonly value: Float64Array;
  private readonly last: Int32Array;
  private readonly sets: number;
  private readonly units: Float64Array;
  private readonly counts: Float64Array;
  private readonly taken: Float64Array;

  constructor(
    private readonly load: Load,
    private readonly segments: number,
    private readonly mostTorn: number,
  ) {
    this.sets = 1 << load.groups.length;
    this.units = sums(load.groups.map(({ units }) => units));
    this.counts = sums(load.groups.map(({ count }) => count));
    this.taken = sums(load.groups.map(({ taken }) => taken));
    const size = this.sets * (segments + 1) * (mostTorn + 1);
    this.value = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
    this.last = new Int32Array(size);
    this.value[this.index(0, 0, 0)] = 0;
    for (let set = 0; set < this.sets - 1; set++) this.extend(set);
  }

  ends(): number[] {
    const torn = Array.from({ length: this.mostTorn + 1 }, (_, count) => count);
    return torn.map((count) => at(this.value, this.index(this.sets - 1, this.segments, count)));
  }

  division(torn: number): Part[] {
    const parts: Part[] = [];
    let [set, used, left] = [this.sets - 1, this.segments, torn];
    while (set > 0) {
      const packed = at(this.last, this.index(set, used, left));
      const [part, extra] = [packed % this.sets, Math.floor(packed / this.sets)];
      parts.push({
        groups: this.load.groups.map((_, group) => group).filter((group) => part & (1 << group)),
        segments: extra + 1,
      });
      [set, used, left] = [set & ~part, used - extra - 1, left - extra];
    }
    return parts.reverse();
  }

  private index(set: number, used: number, torn: number): number {
    return (set * (this.segments + 1) + used) * (this.mostTorn + 1) + torn;
  }

  /** The first group that is left begins the next part: no division is met twice. */
  private extend(set: number): void {
    const reached = this.reachedBy(set);
    if (reached.length === 0) return;
    const left = this.sets - 1 - set;
    const first = left & -left;
    const others = left - first;
    for (let more = others; ; more = (more - 1) & others) {
      for (const [used, torn] of reached) this.close(set, more | first, used, torn);
      if (more === 0) break;
    }
  }

  private reachedBy(set: number): [used: number, torn: number][] {
    const reached: [number, number][] = [];
    for (let used = 0; used < this.segments; used++) {
      for (let torn = 0; torn <= this.mostTorn; torn++) {
        if (at(this.value, this.index(set, used, torn)) < Number.POSITIVE_INFINITY) reached.push([used, torn]);
      }
    }
    return reached;
  }

  private close(set: number, part: number, used: number, torn: number): void {
    const [units, count] = [at(this.units, part), at(this.counts, part)];
    const before = at(this.value, this.index(set, used, torn));
    const most = Math.min(this.mostTorn - torn, this.segments - used - 1, count - 1);
    for (let extra = 0; extra <= most; extra++) {
      const mean = Math.ceil(units / (extra + 1));
      if (mean > this.load.capacity || at(this.taken, part) > (extra + 1) * this.load.places) continue;
      const to = this.index(set | part, used + extra + 1, torn + extra);
      const value = Math.max(before, mean);
      if (value >= at(this.value, to)) continue;
      this.value[to] = value;
      this.last[to] = extra * this.sets + part;
    }
  }
}

/** Of each set of groups, by its bits. */
function sums(each: readonly number[]): Float64Array {
  const all = new Float64Array(1 << each.length);
  for (let set = 1; set < all.length; set++) {
    const rest = set & (set - 1);
    all[set] = at(all, rest) + at(each, 31 - Math.clz32(set ^ rest));
  }
  return all;
}
