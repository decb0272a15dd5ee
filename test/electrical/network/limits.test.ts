import { describe, expect, it } from 'vitest';
import type { Network, Source } from '../../../src/electrical/network/network.js';
import { causeOf, row, solved, supply } from './small-networks.js';

const BEYOND = 'beyond the limit of the supplies';

/** Supplies and a load of constant current on one point. */
function together(sources: readonly Source[], amps: number): Network {
  return { nodes: 1, branches: [], sources, loads: [{ node: 0, amps }] };
}

describe('one supply of 0.64 A', () => {
  const limited = supply(0, { limitA: 0.64, ohm: 1 });

  it.each<[number, string | null]>([
    [0, null],
    [0.639999, null],
    [0.64, null],
    [0.640001, BEYOND],
    [64, BEYOND],
  ])('with %d A', (amps, cause) => {
    expect(causeOf(together([limited], amps))).toBe(cause);
  });

  it.each<[number, string | null]>([
    [0.64 * (30 - 0.64), null], // 0.64 A at its terminals
    [0.6401 * (30 - 0.6401), BEYOND],
    [1000, BEYOND],
  ])('with %d W', (watts, cause) => {
    expect(causeOf({ nodes: 1, branches: [], sources: [limited], loads: [{ node: 0, watts }] })).toBe(cause);
  });

  it('is no matter of the limit where the cable is in the way', () => {
    const network = { ...row([100]), sources: [supply(0, { limitA: 0.64 })], loads: [{ node: 1, amps: 0.3 }] };
    expect(causeOf(network)).toBe('more power than the cable carries');
  });

  it('gives what is drawn, and is at its electromotive force where nothing is', () => {
    expect(solved(together([limited], 0.5))).toEqual({
      outcome: 'solved',
      voltages: [29.5],
      sourceAmps: [0.5],
      sourceStates: ['feeding'],
      branchAmps: [],
    });
    expect(solved(together([limited], 0))).toMatchObject({
      voltages: [30],
      sourceAmps: [0],
      sourceStates: ['feeding'],
    });
  });
});

describe('a mesh without resistance behind a supply of 0.64 A', () => {
  // Where every digit counts: 1 Ω at the supply, micro-ohms between all the rest.
  const nodes = 8;
  const branches = Array.from({ length: nodes }, (_, to) => to).flatMap((to) => {
    return Array.from({ length: to }, (_, from) => ({ from, to, ohm: 0 }));
  });
  const with64 = (firstA: number): Network => ({
    nodes,
    branches,
    sources: [supply(0, { ohm: 1, limitA: 0.64 })],
    loads: Array.from({ length: 64 }, (_, index) => ({ node: index % nodes, amps: index === 0 ? firstA : 0.01 })),
  });

  it('carries 64 times 10 mA, and no more', () => {
    expect([0.01, 0.01 + 1e-8].map((firstA) => causeOf(with64(firstA)))).toEqual([null, BEYOND]);
  });
});

describe('two supplies on one point', () => {
  it.each<[string, readonly Source[], number, number, readonly number[], readonly string[]]>([
    ['alike', [supply(0, { ohm: 1 }), supply(0, { ohm: 1 })], 1, 29.5, [0.5, 0.5], ['feeding', 'feeding']],
    ['alike without load', [supply(0), supply(0)], 0, 30, [0, 0], ['feeding', 'feeding']],
    [
      'unlike: the lower is blocked',
      [supply(0, { ohm: 1 }), supply(0, { ohm: 1, emfV: 28 })],
      1,
      29,
      [1, 0],
      ['feeding', 'blocked'],
    ],
    ['unlike without inner resistance', [supply(0, { emfV: 28 }), supply(0)], 0, 30, [0, 0], ['blocked', 'feeding']],
    [
      'unlike, far enough down for both',
      [supply(0, { ohm: 1 }), supply(0, { ohm: 1, emfV: 28 })],
      3,
      27.5,
      [2.5, 0.5],
      ['feeding', 'feeding'],
    ],
    // The higher gives 0.64 A, the lower the rest at 28 − 0.36.
    [
      'unlike, the higher at its limit',
      [supply(0, { ohm: 1, limitA: 0.64 }), supply(0, { ohm: 1, emfV: 28 })],
      1,
      27.64,
      [0.64, 0.36],
      ['limited', 'feeding'],
    ],
    [
      'one smaller',
      [supply(0, { ohm: 1, limitA: 0.32 }), supply(0, { ohm: 1, limitA: 0.64 })],
      0.9,
      29.42,
      [0.32, 0.58],
      ['limited', 'feeding'],
    ],
  ])('%s', (_, sources, amps, volts, sourceAmps, states) => {
    const solution = solved(together(sources, amps));
    expect(solution.voltages[0]).toBeCloseTo(volts, 5);
    for (const [index, each] of sourceAmps.entries()) expect(solution.sourceAmps[index]).toBeCloseTo(each, 9);
    expect(solution.sourceStates).toEqual(states);
  });

  it.each<[number, string | null]>([
    [0.95, null],
    [0.96, null],
    [0.960001, BEYOND],
  ])('of 0.32 and 0.64 A carry just their sum: %d A', (amps, cause) => {
    for (const emfV of [28, 30, 30.5]) {
      const sources = [supply(0, { limitA: 0.32 }), supply(0, { limitA: 0.64, emfV })];
      expect(causeOf(together(sources, amps))).toBe(cause);
    }
  });
});

describe('what rounding must not decide', () => {
  it.each(Array.from({ length: 40 }, (_, index) => 20 + index * 0.237))(
    'beside one at its limit, one of %d V',
    (emfV) => {
      // It has next to nothing to give, less than the voltages tell over some micro-ohms; still it holds the voltage.
      const sources = [supply(0, { limitA: 0.02 }), supply(0, { emfV, ohm: 3e-6 })];
      const solution = solved(together(sources, 0.02 * (1 + 2e-9)));
      expect(solution.sourceAmps[0]).toBeCloseTo(0.02, 9);
      expect(solution.sourceAmps[1]).toBeCloseTo(0, 7);
    },
  );
});

describe('two supplies with cable between', () => {
  it('are beyond their limit if the near one is, and the cable from the far one is too long for the rest', () => {
    const network = (limitA: number): Network => ({
      ...row([100]),
      sources: [supply(0, { limitA }), supply(1)],
      loads: [{ node: 0, amps: 0.45 }],
    });
    // Beside 0.1 A are 0.35 A left for the cable: 35 V. Beside 0.2 A it is 25 V.
    expect([0.1, 0.2].map((limitA) => causeOf(network(limitA)))).toEqual([BEYOND, null]);
  });

  it('of 31 and 28 V drive no current into each other', () => {
    const network = { ...row([10]), sources: [supply(0, { emfV: 31 }), supply(1, { emfV: 28 })], loads: [] };
    const { voltages, sourceAmps, branchAmps } = solved(network);
    expect(voltages).toEqual([31, 31]);
    expect([...sourceAmps, ...branchAmps]).toEqual([0, 0, 0]);
  });

  it('take over from one another as the load between them grows', () => {
    const states = (amps: number) => {
      const sources = [supply(0, { emfV: 31, limitA: 0.64 }), supply(2, { emfV: 28, limitA: 0.64 })];
      return solved({ ...row([10, 10]), sources, loads: [{ node: 1, amps }] }).sourceStates.join();
    };
    // The second begins to feed where the middle is at 28 V: 3 V / 10 Ω; the first is at its limit at 24.6 V, 0.64 + 0.34.
    expect([0.29, 0.31, 0.97, 0.99].map(states)).toEqual([
      'feeding,blocked',
      'feeding,feeding',
      'feeding,feeding',
      'limited,feeding',
    ]);
  });
});

describe('parts that do not hang together', () => {
  const twoParts = { nodes: 4, branches: [{ from: 0, to: 2, ohm: 1 }], sources: [supply(0), supply(1, { emfV: 28 })] };

  it('are solved each by itself, and a part without any source is at 0 V', () => {
    const { voltages, sourceAmps } = solved({ ...twoParts, loads: [{ node: 2, amps: 1 }] });
    expect(voltages.map((volts) => Math.round(volts * 1000) / 1000)).toEqual([30, 28, 29, 0]);
    expect(sourceAmps[0]).toBeCloseTo(1, 6);
    expect(sourceAmps[1]).toBe(0);
  });

  it('need a source where something is drawn', () => {
    expect(causeOf({ ...twoParts, loads: [{ node: 3, amps: 0.001 }] })).toBe('no source reaches the load');
    expect(causeOf({ nodes: 1, branches: [], sources: [], loads: [{ node: 0, watts: 1 }] })).toBe(
      'no source reaches the load',
    );
    expect(causeOf({ nodes: 0, branches: [], sources: [], loads: [] })).toBe(null);
  });
});
