import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distancesFrom, farthestApart, isTree, nearestTogetherM, piecesOf } from '../../src/electrical/distances.js';
import type { Layout } from '../../src/site/site.js';
import { anyRuns, joinedRuns, layoutOf, type RunSpec, treeRuns } from '../support/layouts.js';

const LINE: RunSpec[] = [
  [0, 1, 10],
  [1, 2, 20],
  [2, 3, 30],
];
const STAR: RunSpec[] = [
  [0, 1, 10],
  [0, 2, 20],
  [0, 3, 30],
];
const RING: RunSpec[] = [...LINE, [3, 0, 25]];
const TWO_PIECES: RunSpec[] = [
  [0, 1, 10],
  [2, 3, 70],
];

/** All distances by the method of Floyd and Warshall, which shares nothing with the one under test. */
function allDistances({ points, runs }: Layout): number[][] {
  const d = points.map((_, a) => points.map((__, b) => (a === b ? 0 : Number.POSITIVE_INFINITY)));
  const at = (a: number, b: number) => d[a]?.[b] ?? Number.NaN;
  const lower = (a: number, b: number, lengthM: number) => {
    const row = d[a];
    if (row && lengthM < at(a, b)) row[b] = lengthM;
  };
  for (const { from, to, lengthM } of runs) {
    lower(from, to, lengthM);
    lower(to, from, lengthM);
  }
  for (const via of points.keys()) {
    for (const a of points.keys()) for (const b of points.keys()) lower(a, b, at(a, via) + at(via, b));
  }
  return d;
}

/** Distances of all pairs of the points that a cable joins. */
function pairDistances(layout: Layout, points: readonly number[]): number[] {
  const all = allDistances(layout);
  return points
    .flatMap((a, at) => points.slice(at + 1).map((b) => all[a]?.[b] ?? Number.NaN))
    .filter((lengthM) => lengthM !== Number.POSITIVE_INFINITY);
}

const graphs = fc.oneof(treeRuns, joinedRuns, anyRuns);
const picks = fc.array(fc.nat(), { maxLength: 6 });
const within = (layout: Layout, pick: readonly number[]) => pick.map((at) => at % layout.points.length);

describe('the distances from some points', () => {
  it.each<[string, RunSpec[], number[], number[]]>([
    ['a line', LINE, [0], [0, 10, 30, 60]],
    ['a line from both ends', LINE, [0, 3], [0, 10, 30, 0]],
    ['a star', STAR, [1], [10, 0, 30, 40]],
    ['a ring, the shorter way round', RING, [0], [0, 10, 30, 25]],
    ['two pieces', TWO_PIECES, [0], [0, 10, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]],
    ['no points', TWO_PIECES, [], Array.from({ length: 4 }, () => Number.POSITIVE_INFINITY)],
  ])('on %s', (_, runs, points, expected) => {
    expect(distancesFrom(layoutOf(runs), points)).toEqual(expected);
  });

  it('are those that every pair of points has', () => {
    fc.assert(
      fc.property(graphs, picks, (runs, pick) => {
        const layout = layoutOf(runs);
        const points = within(layout, pick);
        const all = allDistances(layout);
        const nearest = layout.points.map((__, at) =>
          Math.min(...points.map((point) => all[point]?.[at] ?? Number.NaN)),
        );
        expect(distancesFrom(layout, points)).toEqual(nearest);
      }),
    );
  });
});

describe('the two that are farthest apart', () => {
  it.each<[string, RunSpec[], number[], number, number[]]>([
    ['a line', LINE, [0, 1, 2, 3], 60, [0, 3]],
    ['some of a line', LINE, [1, 0, 2], 30, [0, 2]],
    ['a star', STAR, [0, 1, 2, 3], 50, [2, 3]],
    ['a ring', RING, [0, 1, 2, 3], 35, [1, 3]],
    ['two pieces', TWO_PIECES, [0, 1, 2, 3], 70, [2, 3]],
    ['a point twice', LINE, [2, 2], 0, [2, 2]],
  ])('of %s', (_, runs, points, lengthM, ends) => {
    const apart = farthestApart(layoutOf(runs), points);
    expect(apart?.lengthM).toBe(lengthM);
    expect([apart?.from, apart?.to].sort()).toEqual(ends);
  });

  it.each([[[]], [[2]], [[0, 2]]])('are not there of %j in two pieces', (points) => {
    expect(farthestApart(layoutOf(TWO_PIECES), points)).toBeNull();
    expect(nearestTogetherM(layoutOf(TWO_PIECES), points)).toBeNull();
  });

  it('are as far apart as the farthest of all pairs, the nearest as near as the nearest', () => {
    fc.assert(
      fc.property(graphs, picks, (runs, pick) => {
        const layout = layoutOf(runs);
        const points = within(layout, pick);
        const pairs = pairDistances(layout, points);
        const apart = farthestApart(layout, points);
        expect(apart?.lengthM).toBe(pairs.length === 0 ? undefined : Math.max(...pairs));
        expect(nearestTogetherM(layout, points)).toBe(pairs.length === 0 ? null : Math.min(...pairs));
        if (apart) expect(allDistances(layout)[apart.from]?.[apart.to]).toBe(apart.lengthM);
        expect(points).toEqual(expect.arrayContaining(apart ? [apart.from, apart.to] : []));
      }),
      { numRuns: 300 },
    );
  });
});

it('finds them in a net where many pairs are nearly as far apart', () => {
  const run = fc.tuple(fc.nat({ max: 19 }), fc.nat({ max: 19 }), fc.integer({ min: 1, max: 4 }));
  fc.assert(
    fc.property(fc.array(run, { minLength: 20, maxLength: 30 }), (runs) => {
      const layout = layoutOf(runs);
      const points = [...layout.points.keys()];
      expect(farthestApart(layout, points)?.lengthM).toBe(Math.max(...pairDistances(layout, points)));
    }),
    { numRuns: 500 },
  );
});

describe('the pieces', () => {
  it('are what runs join, each a tree or not', () => {
    const layout = layoutOf([[4, 2, 5], ...TWO_PIECES.slice(0, 1), [2, 3, 1], [3, 4, 1]]);
    const pieces = piecesOf(layout);
    expect(pieces.map(({ points }) => points)).toEqual([
      [0, 1],
      [2, 3, 4],
    ]);
    expect(pieces.map(isTree)).toEqual([true, false]);
  });
});

it('takes 5000 points in a row, and in a bush, as it does not call itself', () => {
  const row = layoutOf(Array.from({ length: 4999 }, (_, at): RunSpec => [at, at + 1, 1]));
  expect(farthestApart(row, [...row.points.keys()])).toEqual({ lengthM: 4999, from: 4999, to: 0 });
  expect(distancesFrom(row, [2500]).reduce((most, one) => Math.max(most, one), 0)).toBe(2500);
  const bush = layoutOf(Array.from({ length: 4999 }, (_, at): RunSpec => [at >> 1, at + 1, 1]));
  // The lowest of its levels, the twelfth, is filled on one side only: 12 m down there, 11 on the other side.
  expect(farthestApart(bush, [...bush.points.keys()])?.lengthM).toBe(23);
});

it('takes a ring of 2000 points', () => {
  const ring = layoutOf(Array.from({ length: 2000 }, (_, at): RunSpec => [at, (at + 1) % 2000, 1]));
  expect(farthestApart(ring, [...ring.points.keys()])?.lengthM).toBe(1000);
});

it('takes a net of 70 by 70 points', () => {
  const across = Array.from({ length: 70 * 69 }, (_, at): RunSpec => {
    const from = at + Math.floor(at / 69);
    return [from, from + 1, 1];
  });
  const down = Array.from({ length: 69 * 70 }, (_, at): RunSpec => [at, at + 70, 2]);
  const net = layoutOf([...across, ...down]);
  expect(farthestApart(net, [...net.points.keys()])?.lengthM).toBe(69 + 2 * 69);
});
