import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitLoad } from '../../../src/sizing/split/split.js';
import { bruteForce, compared, figuresOf, found, problemOf, problems, reckoned } from './problems.js';

describe('a split', () => {
  it('has the best figures that there are, by going through every division of up to 10 devices', async () => {
    await fc.assert(
      fc.asyncProperty(problems(10), async (problem) => {
        const split = found(await splitLoad(problem));
        expect(figuresOf(split)).toEqual(bruteForce(problem));
        expect(reckoned(problem, split)).toEqual(figuresOf(split));
        expect(split).toMatchObject({ method: 'optimal', gap: { segments: 0, torn: 0, evenUa: 0 } });
      }),
      { numRuns: 60 },
    );
  });

  it('is never worse than without the solver, and never below the lower bound', async () => {
    await fc.assert(
      fc.asyncProperty(problems(40), async (problem) => {
        const heuristic = found(await splitLoad({ ...problem, seconds: 0 }));
        const split = found(await splitLoad({ ...problem, seconds: 0.3 }));
        expect(compared(figuresOf(split), figuresOf(heuristic))).toBeLessThanOrEqual(0);
        expect(split.segments.length).toBeGreaterThanOrEqual(split.lowerBound);
        expect(reckoned(problem, heuristic)).toEqual(figuresOf(heuristic));
        expect(reckoned(problem, split)).toEqual(figuresOf(split));
        expect(heuristic.method).not.toBe('within the time');
      }),
      { numRuns: 30 },
    );
  }, 120_000);

  it('claims no gap smaller than what is really left', async () => {
    await fc.assert(
      fc.asyncProperty(problems(9), async (problem) => {
        const best = bruteForce(problem) ?? [0, 0, 0];
        const { gap, proved, ...split } = found(await splitLoad({ ...problem, seconds: 0 }));
        expect(split.segments.length - best[0]).toBeLessThanOrEqual(gap.segments);
        if (split.segments.length === best[0]) expect(split.torn - best[1]).toBeLessThanOrEqual(gap.torn);
        expect(proved).toEqual({ segments: gap.segments === 0, torn: gap.torn === 0, even: gap.evenUa === 0 });
      }),
      { numRuns: 300 },
    );
  });

  it('is the same each time', async () => {
    await fc.assert(
      fc.asyncProperty(problems(10), async (problem) => {
        expect(await splitLoad(problem)).toEqual(await splitLoad(problem));
      }),
      { numRuns: 20 },
    );
  });

  it('keeps groups together where that costs no segment', async () => {
    const split = found(await splitLoad(problemOf([30, 50, 30, 50, 40], { groups: ['a', 'b', 'a', 'b', 'a'] })));
    expect(split.segments).toEqual([
      ['d0', 'd2', 'd4'],
      ['d1', 'd3'],
    ]);
    expect(split).toMatchObject({ loadsUa: [100, 100], torn: 0, lowerBound: 2, method: 'optimal' });
  });

  it('tears a group rather than take another segment', async () => {
    const split = found(
      await splitLoad(problemOf([40, 30, 40, 30, 30, 30], { groups: ['a', 'a', 'b', 'b', 'c', 'c'] })),
    );
    expect(figuresOf(split)).toEqual([2, 1, 100]); // 70 + 70 + 60 into twice 100: c is torn
  });

  it('tears fewer groups rather than be more even', async () => {
    const split = found(await splitLoad(problemOf([40, 40, 20, 5], { groups: ['a', 'a', 'b', 'b'] })));
    expect(figuresOf(split)).toEqual([2, 0, 80]); // 55 and 50 with both torn
  });

  it('is as even as the groups allow', async () => {
    const split = found(await splitLoad(problemOf([60, 50, 30, 20])));
    expect(split.loadsUa).toEqual([80, 80]); // 60 + 20, 50 + 30
  });
});

describe('a split at its limits', () => {
  it('has no segments for no devices', async () => {
    expect(await splitLoad(problemOf([]))).toMatchObject({ segments: [], torn: 0, lowerBound: 0, method: 'optimal' });
  });

  it('takes a device as large as a segment, and says which is larger', async () => {
    expect(found(await splitLoad(problemOf([1, 100]))).loadsUa).toEqual([1, 100]);
    expect(await splitLoad(problemOf([1, 101]))).toEqual({ impossible: 'item too large', id: 'd1' });
  });

  it('fills just so many places', async () => {
    expect(found(await splitLoad(problemOf([1, 1, 1, 1], { places: 2 }))).segments).toHaveLength(2);
    expect(found(await splitLoad(problemOf([1, 1, 1, 1, 1], { places: 2 }))).segments).toHaveLength(3);
    expect(await splitLoad(problemOf([1], { places: 0 }))).toEqual({ impossible: 'no places' });
  });

  it('stays within the most segments, and says how many it would take', async () => {
    expect(found(await splitLoad(problemOf([60, 60, 60], { mostSegments: 3 }))).segments).toHaveLength(3);
    expect(await splitLoad(problemOf([60, 60, 60], { mostSegments: 2 }))).toEqual({
      impossible: 'too many segments',
      atLeast: 3,
    });
  });

  it('places what draws nothing, by its places alone', async () => {
    const split = found(await splitLoad(problemOf([0, 0, 0, 0, 0], { places: 3, groups: ['a', 'a', 'b', 'b', 'b'] })));
    expect(figuresOf(split)).toEqual([2, 0, 0]);
    expect(found(await splitLoad(problemOf([0, 0], { capacityUa: 0 }))).segments).toHaveLength(1);
  });

  it('tears a single group only as often as it must', async () => {
    const split = found(await splitLoad(problemOf(Array(10).fill(25), { groups: Array(10).fill('a') })));
    expect(figuresOf(split)).toEqual([3, 2, 100]); // 4 to a segment: 4, 3 and 3 or 4, 4 and 2
    expect(split.method).toBe('optimal');
  });

  it('tears nothing where each device is its own group', async () => {
    const split = found(await splitLoad(problemOf([70, 60, 50, 40, 30, 20, 10])));
    expect(figuresOf(split)).toEqual([3, 0, 100]); // 280 in all; 70 + 20, 60 + 30, 50 + 40 and a last 10
  });

  it('needs one segment where all fits into one', async () => {
    const split = found(await splitLoad(problemOf([50, 50], { mostSegments: 1 })));
    expect(split).toMatchObject({ segments: [['d0', 'd1']], loadsUa: [100], method: 'optimal' });
  });
});
