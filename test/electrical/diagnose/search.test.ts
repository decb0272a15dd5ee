import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spread } from '../../../src/electrical/diagnose/places.js';
import { leastOver } from '../../../src/electrical/diagnose/search.js';
import { solveShort } from '../../../src/electrical/diagnose/settle.js';

describe('the search for a figure', () => {
  it('finds the least of a hollow, wherever it is', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 100, noNaN: true }), (x) => {
        const found = leastOver({ from: 0, to: 100, by: 'steps' }, (at) => (at - x) ** 2);
        expect(Math.abs(found.x - x)).toBeLessThan(0.02);
      }),
    );
    fc.assert(
      fc.property(fc.double({ min: 1, max: 10, noNaN: true }), (x) => {
        const found = leastOver({ from: 1, to: 10, by: 'ratios' }, (at) => Math.abs(at - x));
        expect(Math.abs(found.x - x)).toBeLessThan(0.01);
      }),
    );
  });

  it('stays at the start where nothing is better', () => {
    expect(leastOver({ from: 1, to: 10, by: 'ratios' }, () => 3)).toEqual({ x: 1, value: 3 });
    expect(leastOver({ from: 0, to: 640, by: 'steps' }, (x) => x)).toEqual({ x: 0, value: 0 });
  });

  it('passes over what has no value', () => {
    const found = leastOver({ from: 0, to: 100, by: 'steps' }, (x) => (x > 50 ? Number.POSITIVE_INFINITY : 50 - x));
    expect(found.x).toBeGreaterThan(49.9);
    expect(found.x).toBeLessThanOrEqual(50);
  });
});

describe('places evenly spread', () => {
  it('are all, or as many as asked for with the first among them', () => {
    expect(spread([1, 2, 3], 3)).toEqual([1, 2, 3]);
    expect(spread([1, 2, 3, 4], 2)).toEqual([1, 3]);
    fc.assert(
      fc.property(fc.nat({ max: 300 }), fc.integer({ min: 1, max: 40 }), (count, most) => {
        const all = Array.from({ length: count }, (_, at) => at);
        const some = spread(all, most);
        expect(some).toHaveLength(Math.min(count, most));
        if (count > 0) expect(some[0]).toBe(0);
      }),
    );
  });
});

describe('a short', () => {
  /** 30 V, 10 Ω to each of two points in a row, 100 mA drawn at the first. */
  const network = (limitA: number) => ({
    nodes: 3,
    branches: [
      { from: 0, to: 1, ohm: 10 },
      { from: 1, to: 2, ohm: 10 },
    ],
    sources: [{ node: 0, emfV: 30, ohm: 0, limitA }],
    loads: [{ node: 1, amps: 0.1 }],
  });

  it('leaves what is before it running while there is enough voltage', () => {
    // 30 V over 10 Ω with 0.1 A more, and 10 + 80 Ω: (30 − 10·0.1)·90/100 at the first point.
    const solution = solveShort(network(2), { node: 2, ohm: 80 }, 20);
    expect(solution).toMatchObject({ outcome: 'solved' });
    if (solution.outcome === 'solved') {
      expect(solution.voltages[1]).toBeCloseTo(26.1, 4);
      expect(solution.sourceAmps[0]).toBeCloseTo(0.39, 5);
    }
  });

  it('switches off what lacks voltage', () => {
    // Dead short behind 20 Ω: 1.5 A, 15 V at the first point, where nothing runs.
    const solution = solveShort(network(2), { node: 2, ohm: 0 }, 20);
    if (solution.outcome === 'solved') {
      expect(solution.voltages[1]).toBeCloseTo(15, 4);
      expect(solution.sourceAmps[0]).toBeCloseTo(1.5, 4);
    }
    expect(solution.outcome).toBe('solved');
  });

  it('draws no more than the supply gives', () => {
    const solution = solveShort(network(0.64), { node: 2, ohm: 0 }, 20);
    if (solution.outcome === 'solved') {
      expect(solution.voltages[0]).toBeCloseTo(12.8, 4);
      expect(solution.sourceAmps[0]).toBeCloseTo(0.64, 9);
    }
    expect(solution.outcome).toBe('solved');
  });
});
