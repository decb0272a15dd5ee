import { describe, expect, it } from 'vitest';
import { holds } from '../../../src/sizing/split/bins.js';
import { fewestSegments } from '../../../src/sizing/split/exact.js';
import { firstFit } from '../../../src/sizing/split/first-fit.js';
import { loadOf } from '../../../src/sizing/split/load.js';
import { splitLoad } from '../../../src/sizing/split/split.js';
import { figuresOf, found, problemOf, random, reckoned, shuffled } from './problems.js';

/**
 * Instances in the shape of two classes of the OR-Library's bin packing (Beasley; Falkenauer, Journal of Heuristics 2, 1996: t60 and
 * u120). The instances themselves are not at hand: these are made here, with an optimum that is known by how they are made.
 */

/** As t60: 20 bins of 1000, each filled exactly by three items between 250 and 500. */
function triplets(seed: number): number[] {
  const next = random(seed);
  const between = (low: number, high: number) => low + Math.floor(next() * (high - low + 1));
  const bins = Array.from({ length: 20 }, () => {
    const first = between(380, 490);
    const second = between(250, Math.floor((1000 - first) / 2));
    return [first, second, 1000 - first - second];
  });
  return shuffled(bins.flat(), next);
}

/**
 * As u120: 120 items from 20 to 100 in bins of 150. Planted: bins of two to four items filled exactly, and one that is not,
 * so that the optimum is the sum over the capacity, rounded up.
 */
function uniform(seed: number): { currents: number[]; bins: number } {
  const next = random(seed);
  const between = (low: number, high: number) => low + Math.floor(next() * (high - low + 1));
  const currents: number[] = [];
  let bins = 0;
  for (; currents.length <= 116; bins++) {
    let room = 150;
    while (room > 100) {
      const item = between(20, Math.min(100, room - 20));
      currents.push(item);
      room -= item;
    }
    currents.push(room);
  }
  while (currents.length < 120) currents.push(between(20, 37)); // at most 4 × 37 = 148
  return { currents: shuffled(currents, next), bins: bins + 1 };
}

describe('planted optima', () => {
  it.each([1, 2, 3, 4])(
    'triplets that fill 20 segments exactly, no. %d',
    async (seed) => {
      const problem = problemOf(triplets(seed), { capacityUa: 1000 });
      const split = found(await splitLoad(problem));
      expect(reckoned(problem, split)).toEqual([20, 0, 1000]);
      expect(split).toMatchObject({ lowerBound: 20, method: 'optimal' });
    },
    60_000,
  );

  it.each([1, 2, 3, 4, 5])(
    '120 items of 20 to 100 in segments of 150, no. %d',
    async (seed) => {
      const { currents, bins } = uniform(seed);
      expect(currents).toHaveLength(120);
      const problem = problemOf(currents, { capacityUa: 150 });
      const load = loadOf(problem);
      const { packing, bound } = await fewestSegments(load, firstFit(load, 1), 1, 60);
      expect(holds(load, packing)).toBe(true);
      expect([packing.length, bound]).toEqual([bins, bins]);
    },
    120_000,
  );

  it('groups that fill 6 segments exactly, two and two, apart from one that is torn for it', async () => {
    // 11 whole groups of 50 and one of 50 in two halves of 25: 600 in all, in 6 segments of 100
    const groups = Array.from({ length: 12 }, (_, group) => Array<string>(5).fill(`room ${group}`)).flat();
    const split = found(await splitLoad(problemOf(Array(60).fill(10), { groups })));
    expect(figuresOf(split)).toEqual([6, 0, 100]);
    expect(split.method).toBe('optimal');
  });
});
