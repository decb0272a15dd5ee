import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadOf } from '../../../src/sizing/split/load.js';
import { partsBound } from '../../../src/sizing/split/parts.js';
import { bruteForce, problemOf, problems } from './problems.js';

const boundOf = (unitsOfGroups: readonly number[], segments: number) => {
  const groups = unitsOfGroups.flatMap((units, group) => Array<string>(units).fill(`g${group}`));
  const load = loadOf(problemOf(Array(groups.length).fill(1), { groups, capacityUa: 10, places: 20 }));
  return partsBound(load, segments, segments);
};

describe('the bound by parts', () => {
  it('is never above what is best, neither of the groups torn nor of the greatest load', () => {
    fc.assert(
      fc.property(problems(9), (problem) => {
        const best = bruteForce(problem);
        fc.pre(best !== null && best[0] > 0);
        const load = loadOf(problem);
        const bound = partsBound(load, best[0], best[1]);
        expect(bound?.torn).toBeLessThanOrEqual(best[1]);
        expect((bound?.greatest[Math.min(best[1], best[0] - 1)] ?? Number.NaN) * load.unitUa).toBeLessThanOrEqual(
          best[2],
        );
      }),
      { numRuns: 500 },
    );
  });

  it.each<[string, number[], number, number]>([
    ['each fits whole', [10, 10, 10], 3, 0],
    ['two and two fit', [6, 4, 7, 3], 2, 0],
    ['the last one is torn', [7, 7, 6], 2, 1],
    ['one larger than two segments', [25], 3, 2],
    ['three of 8 in three segments, and 6 more over all of them', [8, 8, 8, 6], 3, 2],
    ['the same with a segment to spare', [8, 8, 8, 6], 4, 0],
  ])('tears as few as the load allows: %s', (_, units, segments, torn) => {
    expect(boundOf(units, segments)?.torn).toBe(torn);
  });

  it('says of more groups torn how even it could be', () => {
    // whole: 6 + 2 and 4 + 4, or 6 and so on: 8; with one torn all 16 spread over two
    expect(boundOf([6, 4, 4, 2], 2)?.greatest).toEqual([8, 8]);
    // whole: 9 and 5; with one torn 7 and 7
    expect(boundOf([9, 5], 2)?.greatest).toEqual([9, 7]);
  });

  it('names the parts it comes of', () => {
    expect(boundOf([7, 9, 7, 6], 3)?.parts).toEqual([
      { groups: [0, 2, 3], segments: 2 },
      { groups: [1], segments: 1 },
    ]);
  });

  it('goes through 12 groups and leaves 13', () => {
    expect(boundOf(Array(12).fill(5), 6)?.torn).toBe(0);
    expect(boundOf(Array(13).fill(5), 7)).toBeNull();
  });
});
