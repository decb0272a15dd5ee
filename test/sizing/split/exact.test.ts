import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Bins, filled, holds, type Packing, scoreOf } from '../../../src/sizing/split/bins.js';
import { fewestSegments, least } from '../../../src/sizing/split/exact.js';
import { type Load, loadOf } from '../../../src/sizing/split/load.js';
import type { SplitProblem } from '../../../src/sizing/split/problem.js';
import { bruteForce, type Figures, problemOf, problems } from './problems.js';

/** Long enough that it plays no part. */
const SECONDS = 60;

/** The solver alone, with a poor start and nothing known beforehand. */
const NOTHING_KNOWN = { tornFrom: 0, greatestFrom: 0 };

/** Each item into the first segment that has room for it, as they come; null where that takes more segments. */
function naive(load: Load, segments: number): Packing | null {
  const bins = new Bins(load, segments);
  for (const [kind, { units, members }] of load.kinds.entries()) {
    for (const _ of members) {
      const bin = bins.loads.findIndex((_, index) => bins.room(index) >= units && bins.places(index) > 0);
      if (bin < 0) return null;
      bins.put(bin, kind, 1);
    }
  }
  return bins.counts;
}

function started(problem: SplitProblem): { load: Load; start: Packing; best: Figures } {
  const best = bruteForce(problem);
  fc.pre(best !== null && best[0] > 1);
  const load = loadOf(problem);
  const start = naive(load, best[0]);
  fc.pre(start !== null);
  return { load, start, best };
}

describe('the solver', () => {
  it.each(['flow', 'one number after the other'])('finds the fewest segments, by the %s', async (way) => {
    await fc.assert(
      fc.asyncProperty(problems(9), async (drawn) => {
        const problem = way === 'flow' ? { ...drawn, places: 9 } : drawn;
        fc.pre(problem.items.length > 0);
        const load = loadOf(problem);
        const apart = problem.items.map((_, item) => load.kinds.map(({ members }) => (members.includes(item) ? 1 : 0)));
        const { packing, bound } = await fewestSegments(load, apart, 1, SECONDS);
        expect(holds(load, packing)).toBe(true);
        expect([packing.length, bound]).toEqual([bruteForce(problem)?.[0], bruteForce(problem)?.[0]]);
      }),
      { numRuns: 40 },
    );
  });

  it('finds and proves the fewest groups torn', async () => {
    await fc.assert(
      fc.asyncProperty(problems(9), async (problem) => {
        const { load, start, best } = started(problem);
        const tornTo = scoreOf(filled(load, start)).torn;
        const { packing, bound } = await least(load, start, { least: 'torn', ...NOTHING_KNOWN, tornTo }, SECONDS);
        expect(holds(load, packing)).toBe(true);
        expect([scoreOf(filled(load, packing)).torn, bound]).toEqual([best[1], best[1]]);
      }),
      { numRuns: 40 },
    );
  });

  it('finds and proves the least greatest load, with no more groups torn', async () => {
    await fc.assert(
      fc.asyncProperty(problems(9), async (problem) => {
        const { load, start, best } = started(problem);
        fc.pre(scoreOf(filled(load, start)).torn === best[1]);
        const { packing, bound } = await least(
          load,
          start,
          { least: 'greatest load', ...NOTHING_KNOWN, tornTo: best[1] },
          SECONDS,
        );
        const { torn, greatest } = scoreOf(filled(load, packing));
        expect([torn, greatest * load.unitUa, bound * load.unitUa]).toEqual([best[1], best[2], best[2]]);
      }),
      { numRuns: 40 },
    );
  });

  it('knows nothing and changes nothing without time', async () => {
    const load = loadOf(problemOf([60, 40, 50, 50], { groups: ['a', 'b', 'a', 'b'] }));
    const start: Packing = [
      [1, 1, 0, 0],
      [0, 0, 1, 1],
    ];
    expect(await least(load, start, { least: 'torn', ...NOTHING_KNOWN, tornTo: 2 }, 0)).toEqual({
      packing: start,
      bound: 0,
    });
    expect(await fewestSegments(load, start, 1, 0)).toEqual({ packing: start, bound: 1 });
  });
});
