import { describe, expect, it } from 'vitest';
import type { Network } from '../../../src/electrical/network/network.js';
import { causeOf, row, solved, supply } from './small-networks.js';

const CABLE = 'more power than the cable carries';

/** One load behind the inner resistance of a supply of 30 V, so that nothing but that resistance is in between. */
function behind(ohm: number, watts: number): Network {
  return { nodes: 1, branches: [], sources: [supply(0, { ohm })], loads: [{ node: 0, watts }] };
}

/** Closed form: V = E/2 + √(E²/4 − R·P); there is none beyond P = E²/4R. */
const closedForm = (ohm: number, watts: number) => 15 + Math.sqrt(225 - ohm * watts);

describe('a load of constant power behind a resistance', () => {
  it('of 5 W behind 25.2 Ω has 24.949874 V', () => {
    expect(solved(behind(25.2, 5)).voltages[0]).toBeCloseTo(24.949874, 6);
    expect(solved({ ...row([25.2]), sources: [supply(0)], loads: [{ node: 1, watts: 5 }] }).voltages[1]).toBeCloseTo(
      24.949874,
      6,
    );
  });

  const greatest = 225 / 25.2;

  it.each([0.1, 0.5, 0.9, 0.999, 1 - 1e-6, 1 - 1e-9, 1 - 1e-12])(
    'of %d of the greatest power is as in closed form',
    (part) => {
      // Rounding in the power moves the voltage the more the nearer it is: by √(the relative rounding) at the very end.
      expect(solved(behind(25.2, part * greatest)).voltages[0]).toBeCloseTo(closedForm(25.2, part * greatest), 6);
    },
  );

  it.each([1 + 1e-12, 1 + 1e-9, 1.001, 2, 4, 1000])('of %d times the greatest power has no solution', (part) => {
    expect(causeOf(behind(25.2, part * greatest))).toBe(CABLE);
  });

  it('of just the greatest power stands at half the voltage, where it is solved at all', () => {
    // 30 V, 9 Ω, 25 W: all of it exact in binary.
    const cause = causeOf(behind(9, 25));
    if (cause === null) expect(solved(behind(9, 25)).voltages[0]).toBeCloseTo(15, 5);
    else expect(cause).toBe(CABLE);
  });
});

describe('64 devices evenly along 350 m of 72 Ω/km', () => {
  const sections = new Array<number>(64).fill(25.2 / 64);
  const nodes = sections.map((_, before) => before + 1);

  it('have 21.81 V at the end with 10 mA each', () => {
    const loads = nodes.map((node) => ({ node, amps: 0.01 }));
    // By hand: 0.64 A · 25.2 Ω · 65/128 = 8.19 V; the micro-ohm of the supply drops 0.64 µV.
    expect(solved({ ...row(sections), sources: [supply(0)], loads }).voltages[64]).toBeCloseTo(21.81, 5);
  });

  it('have 21.349839 V at the end with 240 mW each', () => {
    const loads = nodes.map((node) => ({ node, watts: 0.24 }));
    // A general circuit simulator with tight tolerances.
    const end = solved({ ...row(sections), sources: [supply(0)], loads }).voltages[64] as number;
    expect(Math.abs(end - 21.349839)).toBeLessThan(2e-6);
  });
});

describe('a load without voltage', () => {
  it.each<[string, number, string | null]>([
    ['just above 0 V', 0.9999, null],
    ['at 0 V', 1, CABLE],
    ['below', 1.0001, CABLE],
  ])('of constant current is no state: %s', (_, amps, cause) => {
    const network = { nodes: 1, branches: [], sources: [supply(0, { ohm: 30 })], loads: [{ node: 0, amps }] };
    expect(causeOf(network)).toBe(cause);
  });

  it('matters only where something is drawn', () => {
    const loads = [
      { node: 0, amps: 0 },
      { node: 0, watts: 0 },
    ];
    expect(solved({ nodes: 2, branches: [], sources: [supply(1)], loads }).voltages).toEqual([0, 30]);
  });
});

describe('both kinds of load on one point', () => {
  it('are drawn together', () => {
    // 30 − 10·(0.5 + 10/V) = V → V² − 25 V + 100 = 0 → V = 20
    const loads = [
      { node: 0, amps: 0.5 },
      { node: 0, watts: 10 },
    ];
    const { voltages, sourceAmps } = solved({ nodes: 1, branches: [], sources: [supply(0, { ohm: 10 })], loads });
    expect(voltages[0]).toBeCloseTo(20, 9);
    expect(sourceAmps[0]).toBeCloseTo(1, 9);
  });
});

describe('a low supply beside the load', () => {
  it('does not drag it down on the way to the solution', () => {
    // With 1 V taking current 5 W were not to be had there; blocked it does no harm.
    const network = {
      ...row([25.2]),
      sources: [supply(0), supply(1, { emfV: 1 })],
      loads: [{ node: 1, watts: 5 }],
    };
    const { voltages, sourceStates } = solved(network);
    expect(voltages[1]).toBeCloseTo(24.949874, 5);
    expect(sourceStates).toEqual(['feeding', 'blocked']);
  });

  it('helps where the high one alone would not do', () => {
    // 3 W are beyond 30²/(4·100) = 2.25 W of the first; I₁ = (30 − V)/100, I₂ = 20 − V: 1.01 V² − 20.3 V + 3 = 0.
    const network = {
      nodes: 1,
      branches: [],
      sources: [supply(0, { ohm: 100 }), supply(0, { ohm: 1, emfV: 20 })],
      loads: [{ node: 0, watts: 3 }],
    };
    const { voltages, sourceStates } = solved(network);
    expect(voltages[0]).toBeCloseTo((20.3 + Math.sqrt(20.3 ** 2 - 4 * 1.01 * 3)) / 2.02, 9);
    expect(sourceStates).toEqual(['feeding', 'feeding']);
    expect(causeOf({ ...network, sources: network.sources.slice(0, 1) })).toBe(CABLE);
  });
});
