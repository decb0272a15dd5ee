import { describe, expect, it } from 'vitest';
import type { Network } from '../../../src/electrical/network/network.js';
import { solveNetwork } from '../../../src/electrical/network/solve.js';
import { row, solved, supply } from './small-networks.js';

describe('shapes', () => {
  it('a second pair in parallel halves the resistance, and each pair carries half', () => {
    const between = { from: 0, to: 1, ohm: 20 };
    const network = {
      nodes: 2,
      branches: [between, { from: 1, to: 0, ohm: 20 }],
      sources: [supply(0)],
      loads: [{ node: 1, amps: 0.5 }],
    };
    const { voltages, branchAmps } = solved(network);
    expect(voltages[1]).toBeCloseTo(25, 5);
    expect(branchAmps[0]).toBeCloseTo(0.25, 9);
    expect(branchAmps[1]).toBeCloseTo(-0.25, 9);
  });

  it('a branch from a point to itself carries nothing', () => {
    const loop = { from: 1, to: 1, ohm: 0 };
    const network = { ...row([10]), sources: [supply(0)], loads: [{ node: 1, amps: 0.5 }] };
    const plain = solved(network);
    const looped = solved({ ...network, branches: [...network.branches, loop] });
    expect(looped).toEqual({ ...plain, branchAmps: [...plain.branchAmps, 0] });
  });

  it('no resistance is a micro-ohm', () => {
    const network = (ohm: number): Network => ({ ...row([ohm]), sources: [supply(0)], loads: [{ node: 1, amps: 1 }] });
    expect(solved(network(0))).toEqual(solved(network(1e-6)));
    expect(solved(network(0)).voltages[1]).toBeCloseTo(30 - 2e-6, 12);
  });

  it('a line of 10,000 points does not overflow anything', () => {
    const loads = Array.from({ length: 10_000 }, (_, node) => ({ node: node + 1, amps: 1e-6 }));
    const { voltages } = solved({ ...row(new Array<number>(10_000).fill(0.1)), sources: [supply(0)], loads });
    // Evenly spread: 10 mA · 1000 Ω · (10,001 / 20,000)
    expect(voltages[10_000]).toBeCloseTo(30 - 5.0005, 6);
  });

  it('a full mesh is solved too: between any two of n points there are 2/n of a resistance', () => {
    const pairs = [0, 1, 2, 3, 4, 5].flatMap((from) =>
      [0, 1, 2, 3, 4, 5].slice(from + 1).map((to) => ({ from, to, ohm: 9 })),
    );
    const { voltages } = solved({ nodes: 6, branches: pairs, sources: [supply(0)], loads: [{ node: 5, amps: 1 }] });
    expect(voltages[5]).toBeCloseTo(27, 5);
    for (const middle of [1, 2, 3, 4]) expect(voltages[middle]).toBeCloseTo(28.5, 5);
  });
});

describe('what is no network', () => {
  const fine: Network = { ...row([1]), sources: [supply(0)], loads: [{ node: 1, amps: 0.1 }] };

  it.each<[string, Partial<Network>, RegExp]>([
    ['a number of points that is none', { nodes: 1.5 }, /points/],
    ['a negative number of points', { nodes: -1 }, /points/],
    ['a branch to nowhere', { branches: [{ from: 0, to: 2, ohm: 1 }] }, /branch 0: no point 2/],
    ['a branch from nowhere', { branches: [{ from: -1, to: 1, ohm: 1 }] }, /branch 0: no point -1/],
    ['a point between points', { loads: [{ node: 0.5, amps: 1 }] }, /load 0: no point 0.5/],
    ['a negative resistance', { branches: [{ from: 0, to: 1, ohm: -1 }] }, /branch 0: ohm/],
    ['a resistance that is no number', { branches: [{ from: 0, to: 1, ohm: Number.NaN }] }, /branch 0: ohm/],
    ['an endless resistance', { branches: [{ from: 0, to: 1, ohm: Number.POSITIVE_INFINITY }] }, /branch 0: ohm/],
    ['a source nowhere', { sources: [supply(2)] }, /source 0: no point 2/],
    ['a source below 0 Ω', { sources: [supply(0, { ohm: -1 })] }, /source 0: ohm/],
    ['a source of 0 V', { sources: [supply(0, { emfV: 0 })] }, /source 0: emfV/],
    ['a source of −30 V', { sources: [supply(0, { emfV: -30 })] }, /source 0: emfV/],
    ['a limit below 0', { sources: [supply(0, { limitA: -1 })] }, /source 0: limitA/],
    ['a limit that is no number', { sources: [supply(0, { limitA: Number.NaN })] }, /source 0: limitA/],
    ['an injection', { loads: [{ node: 1, amps: -0.1 }] }, /load 0/],
    ['negative power', { loads: [{ node: 1, watts: -0.1 }] }, /load 0/],
    ['a load that is no number', { loads: [{ node: 1, amps: Number.NaN }] }, /load 0/],
  ])('%s is refused', (_, wrong, message) => {
    expect(() => solveNetwork({ ...fine, ...wrong })).toThrow(RangeError);
    expect(() => solveNetwork({ ...fine, ...wrong })).toThrow(message);
  });
});
