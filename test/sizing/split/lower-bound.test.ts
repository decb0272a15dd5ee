import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastSegments, martelloToth } from '../../../src/sizing/split/lower-bound.js';
import { bruteForce, problems } from './problems.js';

describe('the lower bound', () => {
  it('is never above the number of segments that do', () => {
    fc.assert(
      fc.property(problems(9), (problem) => {
        const sizes = problem.items.map(({ ua }) => ua);
        const bound = leastSegments(sizes, problem.capacityUa, problem.places);
        expect(bound).toBeLessThanOrEqual(bruteForce(problem)?.[0] ?? 0);
        expect(bound * problem.capacityUa).toBeGreaterThanOrEqual(sizes.reduce((sum, size) => sum + size, 0));
      }),
      { numRuns: 500 },
    );
  });

  it.each<[string, number[], number]>([
    ['the sum, exactly filled', [50, 50, 50, 50], 2],
    ['the sum and 1 more', [50, 50, 50, 50, 1], 3],
    ['those above half each for themselves', [51, 51, 51], 3],
    ['no more than two of just half', [50, 50, 50], 2],
    // 60, 60 with 40 left each; 41 goes with neither: at 41, J1 = {60, 60}, J3 = {41}: 2 + ⌈41/100⌉
    ['what no larger one has room for', [60, 60, 41], 3],
    ['what a larger one just has room for', [60, 60, 40], 2],
    // at 30: 70 and 70 leave 60 for 30, 30, 30; beyond it 30: 2 + ⌈30/100⌉
    ['what goes beyond the room that is left', [70, 70, 30, 30, 30], 3],
    ['nothing', [], 0],
  ])('by L2: %s', (_, sizes, bound) => {
    expect(martelloToth(sizes, 100)).toBe(bound);
  });

  it.each([
    [[0, 0, 0, 0], 100, 2, 2],
    [[0, 0, 0, 0, 0], 100, 2, 3],
    [[100, 1], 100, 64, 2],
    [[0, 0], 0, 64, 1],
    [[], 100, 64, 0],
  ])('by all three: %j of %d in %d places are %d', (sizes, capacity, places, bound) => {
    expect(leastSegments(sizes, capacity, places)).toBe(bound);
  });
});
