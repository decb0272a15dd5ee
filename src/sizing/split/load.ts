import type { SplitProblem } from './problem.js';

/** Items that can stand for one another: same group, same current, as many places. */
export interface Kind {
  readonly group: number;
  /** Current in units of the load. */
  readonly units: number;
  /** That one of them takes. */
  readonly places: number;
  /** Where its items stand in the problem. */
  readonly members: readonly number[];
}

/** A group as a whole. */
interface Group {
  /** Indices of its kinds, the greatest current first. */
  readonly kinds: readonly number[];
  readonly units: number;
  readonly count: number;
  /** That its items take. */
  readonly taken: number;
}

/** The problem in the numbers that the search works with. */
export interface Load {
  readonly kinds: readonly Kind[];
  readonly groups: readonly Group[];
  /** Greatest common divisor of the currents, µA; small whole numbers are what a solver is exact with. */
  readonly unitUa: number;
  readonly capacity: number;
  readonly places: number;
  readonly units: number;
  readonly count: number;
  /** Places that all items take. */
  readonly taken: number;
}

export function loadOf({ items, capacityUa, places }: SplitProblem): Load {
  const unitUa = items.reduce((divisor, { ua }) => greatestCommonDivisor(divisor, ua), 0) || 1;
  const kinds: { group: number; units: number; places: number; members: number[] }[] = [];
  const groupAt = new Map<string, number>();
  const kindAt = new Map<string, number>();
  for (const [index, item] of items.entries()) {
    const group = numbered(groupAt, item.group);
    const each = item.places ?? 1;
    const at = numbered(kindAt, `${group} ${item.ua} ${each}`);
    kinds[at] ??= { group, units: item.ua / unitUa, places: each, members: [] };
    kinds[at].members.push(index);
  }
  const groups = [...groupAt.values()].map((group) => groupOf(kinds, group));
  const units = groups.reduce((sum, group) => sum + group.units, 0);
  const taken = groups.reduce((sum, group) => sum + group.taken, 0);
  const capacity = Math.floor(capacityUa / unitUa);
  return { kinds, groups, unitUa, capacity, places, units, count: items.length, taken };
}

function groupOf(kinds: readonly Kind[], group: number): Group {
  const own = [...kinds.entries()].filter(([, kind]) => kind.group === group);
  return {
    kinds: own.sort(([, a], [, b]) => b.units - a.units).map(([at]) => at),
    units: own.reduce((sum, [, { units, members }]) => sum + units * members.length, 0),
    count: own.reduce((sum, [, { members }]) => sum + members.length, 0),
    taken: own.reduce((sum, [, { places, members }]) => sum + places * members.length, 0),
  };
}

function numbered(names: Map<string, number>, name: string): number {
  const known = names.get(name);
  if (known !== undefined) return known;
  names.set(name, names.size);
  return names.size - 1;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
