import fc from 'fast-check';
import type { NoSplit, Split, SplitItem, SplitProblem } from '../../../src/sizing/split/problem.js';

/** A problem of these currents, µA; each a group of its own unless groups are given. */
export function problemOf(
  currentsUa: readonly number[],
  more: Partial<SplitProblem> & { groups?: readonly string[] } = {},
): SplitProblem {
  const { groups, ...rest } = more;
  const items = currentsUa.map((ua, index) => ({ id: `d${index}`, ua, group: groups?.[index] ?? `g${index}` }));
  return { items, capacityUa: 100, places: 64, mostSegments: 64, seconds: 20, ...rest };
}

/** A split, where there has to be one. */
export function found(split: Split | NoSplit): Split {
  if ('impossible' in split) throw new Error(`no split: ${split.impossible}`);
  return split;
}

/** The three objectives, in their order. */
export type Figures = readonly [segments: number, torn: number, greatestUa: number];

export function figuresOf({ segments, torn, loadsUa }: Split): Figures {
  return [segments.length, torn, Math.max(0, ...loadsUa)];
}

/** Below 0 where the first is better. */
export function compared(a: Figures, b: Figures): number {
  return a[0] - b[0] || a[1] - b[1] || a[2] - b[2];
}

/** What a split says of itself, reckoned anew from which item stands where; throws where it is no split of the problem. */
export function reckoned({ items, capacityUa, places, mostSegments }: SplitProblem, { segments }: Split): Figures {
  const byId = new Map(items.map((item) => [item.id, item]));
  const ids = segments.flat();
  if (ids.length !== items.length || new Set(ids).size !== ids.length) throw new Error('not every item once');
  if (segments.length > mostSegments) throw new Error('too many segments');
  const parts = segments.map((members) => members.map((id) => byId.get(id) as SplitItem));
  const loads = parts.map((members) => members.reduce((sum, { ua }) => sum + ua, 0));
  if (parts.some((members) => members.length === 0 || placesOf(members) > places)) throw new Error('places');
  if (loads.some((load) => load > capacityUa)) throw new Error('capacity');
  const spread = parts.reduce((sum, members) => sum + new Set(members.map(({ group }) => group)).size, 0);
  return [segments.length, spread - new Set(items.map(({ group }) => group)).size, Math.max(0, ...loads)];
}

const placesOf = (members: readonly SplitItem[]) => members.reduce((sum, one) => sum + (one.places ?? 1), 0);

/** Every way to divide the items, gone through: for up to 10 of them. Null where none holds. */
export function bruteForce({ items, capacityUa, places }: SplitProblem): Figures | null {
  let best: Figures | null = null;
  const segments: SplitItem[][] = [];
  const groups = new Set(items.map(({ group }) => group)).size;
  const visit = (index: number): void => {
    if (best !== null && segments.length > best[0]) return;
    const item = items[index];
    if (item === undefined) {
      const spread = segments.reduce((sum, members) => sum + new Set(members.map(({ group }) => group)).size, 0);
      const greatest = Math.max(0, ...segments.map((members) => members.reduce((sum, { ua }) => sum + ua, 0)));
      const figures: Figures = [segments.length, spread - groups, greatest];
      if (best === null || compared(figures, best) < 0) best = figures;
      return;
    }
    for (const members of [...segments]) {
      if (placesOf([...members, item]) > places || members.reduce((sum, { ua }) => sum + ua, item.ua) > capacityUa)
        continue;
      members.push(item);
      visit(index + 1);
      members.pop();
    }
    if (item.ua > capacityUa || placesOf([item]) > places) return;
    segments.push([item]);
    visit(index + 1);
    segments.pop();
  };
  visit(0);
  return best;
}

/** Up to so many devices in up to 4 groups, in segments tight enough that several are needed. */
export function problems(most: number): fc.Arbitrary<SplitProblem> {
  const device = fc.record({ ua: fc.integer({ min: 0, max: 60 }), group: fc.constantFrom('a', 'b', 'c', 'd') });
  return fc
    .record({
      devices: fc.array(device, { maxLength: most }),
      capacityUa: fc.integer({ min: 60, max: 150 }),
      places: fc.integer({ min: 2, max: 8 }),
      first: fc.integer({ min: 1, max: 3 }),
    })
    .map(({ devices, capacityUa, places, first }) => {
      const currents = devices.map(({ ua }) => ua);
      const problem = problemOf(currents, { groups: devices.map(({ group }) => group), capacityUa, places });
      // The first takes several places, as what stays on a segment does.
      const items = problem.items.map((item, at) => (at === 0 ? { ...item, places: Math.min(first, places) } : item));
      return { ...problem, items };
    });
}

/** From 0 to under 1, the same on every machine (a linear congruential generator). */
export function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

export function shuffled<T>(list: readonly T[], next: () => number): T[] {
  return list
    .map((value) => ({ value, key: next() }))
    .sort((a, b) => a.key - b.key)
    .map(({ value }) => value);
}
