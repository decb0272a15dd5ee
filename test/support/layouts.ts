import fc from 'fast-check';
import type { Layout, SegmentSite } from '../../src/site/site.js';

export type RunSpec = readonly [from: number, to: number, lengthM: number];

/** A layout of so many points, called p0, p1, …; devices and supplies by the point at which they sit. */
export function layoutOf(runs: readonly RunSpec[], pointOf: { readonly [id: string]: number } = {}): Layout {
  const points = 1 + runs.reduce((most, [from, to]) => Math.max(most, from, to), -1);
  return {
    points: Array.from({ length: points }, (_, at) => `p${at}`),
    runs: runs.map(([from, to, lengthM]) => ({ from, to, lengthM, ohm: lengthM * 0.0732 })),
    pointOf: new Map(Object.entries(pointOf)),
  };
}

export function segmentSite(said: Partial<SegmentSite>): SegmentSite {
  return {
    place: 'segments[0]',
    cable: null,
    layout: null,
    totalLengthM: null,
    farthestM: null,
    auxiliaryUa: null,
    planned: [],
    isCritical: null,
    wantsReporting: null,
    holdUp: null,
    measured: null,
    connected: null,
    ...said,
  };
}

/** Whole metres, so that every sum is exact. */
const lengthM = fc.integer({ min: 1, max: 99 });

/** A tree: each further point hangs on an earlier one. */
export const treeRuns: fc.Arbitrary<RunSpec[]> = fc
  .array(fc.tuple(fc.nat(), lengthM), { minLength: 1, maxLength: 11 })
  .map((spec) => spec.map(([pick, length], at): RunSpec => [pick % (at + 1), at + 1, length]));

/** A tree with further runs across it, among them parallel ones. */
export const joinedRuns: fc.Arbitrary<RunSpec[]> = fc
  .tuple(treeRuns, fc.array(fc.tuple(fc.nat(), fc.nat(), lengthM), { maxLength: 5 }))
  .map(([tree, across]) => {
    const points = tree.length + 1;
    const further = across.map(([a, b, length]): RunSpec => [a % points, b % points, length]);
    return [...tree, ...further.filter(([from, to]) => from !== to)];
  });

/** Any runs, mostly in several pieces. */
export const anyRuns: fc.Arbitrary<RunSpec[]> = fc
  .array(fc.tuple(fc.nat({ max: 9 }), fc.nat({ max: 9 }), lengthM), { minLength: 1, maxLength: 9 })
  .map((spec) => spec.filter(([from, to]) => from !== to))
  .filter((spec) => spec.length > 0);
