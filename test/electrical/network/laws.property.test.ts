import fc from 'fast-check';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { foldingOf } from '../../../src/electrical/network/folding.js';
import { solveLinear } from '../../../src/electrical/network/linear.js';
import { conductance, draws, type Network, type Solved } from '../../../src/electrical/network/network.js';
import { solveNetwork } from '../../../src/electrical/network/solve.js';
import { laplacian } from './dense.js';
import { type Making, randomNetwork } from './random-networks.js';
import { drawnAmps } from './small-networks.js';

const MAKINGS: readonly (readonly [string, Making])[] = [
  ['trees', { mostRings: 0, mostSources: 3, limits: true, mostAmps: 0.1 }],
  ['rings', { mostRings: 2, mostSources: 3, limits: true, mostAmps: 0.1 }],
  ['meshes', { mostRings: 40, mostSources: 4, limits: true, mostAmps: 0.2 }],
];

/** Differences of voltages are rounded to some 1e-14 V, which over a micro-ohm is some 1e-8 A. */
const ROUNDING_V = 4e-14;

/** Runs a property on networks that have a solution, and holds that most have. */
function onSolved(making: Making, property: (network: Network, solution: Solved) => void): void {
  let [count, solvable] = [0, 0];
  fc.assert(
    fc.property(randomNetwork(making), (network) => {
      const solution = solveNetwork(network);
      count += 1;
      if (solution.outcome !== 'solved') return;
      solvable += 1;
      property(network, solution);
    }),
    { numRuns: 200 },
  );
  expect(solvable).toBeGreaterThan(count / 2);
}

describe.each(MAKINGS)('in %s', (_, making) => {
  it('currents sum to zero at every point', () => {
    onSolved(making, (network, { voltages, sourceAmps, branchAmps }) => {
      const leaving = new Array<number>(network.nodes).fill(0);
      const through = new Array<number>(network.nodes).fill(0);
      const rounding = new Array<number>(network.nodes).fill(0);
      const leave = (node: number, amps: number, ohm = Number.POSITIVE_INFINITY) => {
        leaving[node] = (leaving[node] as number) + amps;
        through[node] = (through[node] as number) + Math.abs(amps);
        rounding[node] = (rounding[node] as number) + ROUNDING_V * conductance(ohm);
      };
      for (const [index, { from, to, ohm }] of network.branches.entries()) {
        leave(from, branchAmps[index] as number, ohm);
        leave(to, -(branchAmps[index] as number), ohm);
      }
      for (const [index, { node, ohm }] of network.sources.entries()) leave(node, -(sourceAmps[index] as number), ohm);
      for (const load of network.loads) leave(load.node, draws(load) ? drawnAmps(load, voltages) : 0);
      for (const [node, amps] of leaving.entries()) {
        expect(Math.abs(amps)).toBeLessThanOrEqual(1e-9 * (through[node] as number) + (rounding[node] as number));
      }
    });
  });

  it('sources give what loads take and branches lose', () => {
    onSolved(making, ({ branches, sources, loads }, { voltages, sourceAmps, branchAmps }) => {
      const at = (node: number) => voltages[node] as number;
      const given = sources.reduce((sum, { node }, index) => sum + at(node) * (sourceAmps[index] as number), 0);
      const taken = loads.reduce((sum, load) => sum + (draws(load) ? at(load.node) * drawnAmps(load, voltages) : 0), 0);
      const lost = branches.reduce((sum, { from, to }, index) => {
        const watts = (at(from) - at(to)) * (branchAmps[index] as number);
        expect(watts).toBeGreaterThanOrEqual(0);
        return sum + watts;
      }, 0);
      expect(Math.abs(given - taken - lost)).toBeLessThanOrEqual(1e-9 * given + 1e-6);
    });
  });

  it('sources keep to one way and to their limits', () => {
    onSolved(making, ({ sources }, { voltages, sourceAmps, sourceStates }) => {
      for (const [index, { node, emfV, ohm, limitA }] of sources.entries()) {
        const [volts, amps, state] = [voltages[node] as number, sourceAmps[index] as number, sourceStates[index]];
        expect(amps).toBeGreaterThanOrEqual(0);
        expect(amps).toBeLessThanOrEqual(limitA);
        const innerV = Math.max(ohm, 1e-6) * amps;
        if (state === 'blocked') expect([amps, volts >= emfV - 1e-9]).toEqual([0, true]);
        else if (state === 'limited') expect([amps, volts <= emfV - innerV + 1e-9]).toEqual([limitA, true]);
        else expect(Math.abs(emfV - innerV - volts)).toBeLessThan(1e-8);
      }
    });
  });

  it('more load anywhere raises no voltage, and makes nothing solvable', () => {
    fc.assert(
      fc.property(
        randomNetwork(making),
        fc.nat(24),
        fc.double({ min: 1e-3, max: 2, noNaN: true }),
        (network, at, more) => {
          for (const kind of ['amps', 'watts'] as const) {
            const load =
              kind === 'amps' ? { node: at % network.nodes, amps: more } : { node: at % network.nodes, watts: more };
            const before = solveNetwork(network);
            const after = solveNetwork({ ...network, loads: [...network.loads, load] });
            if (after.outcome !== 'solved') continue;
            if (before.outcome !== 'solved') throw new Error('more load made it solvable');
            for (const [node, volts] of after.voltages.entries()) {
              expect(volts).toBeLessThanOrEqual((before.voltages[node] as number) + 1e-9);
            }
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it('the order of the points matters to rounding only', () => {
    onSolved(making, (network, { voltages }) => {
      const last = network.nodes - 1;
      const moved = <T extends { readonly node: number }>(item: T) => ({ ...item, node: last - item.node });
      const turned = solveNetwork({
        nodes: network.nodes,
        branches: network.branches.map(({ from, to, ohm }) => ({ from: last - to, to: last - from, ohm })).reverse(),
        sources: network.sources.map(moved).reverse(),
        loads: network.loads.map(moved).reverse(),
      });
      if (turned.outcome !== 'solved') throw new Error(`turned it is unsolvable: ${turned.because}`);
      for (const [node, volts] of voltages.entries()) expect(turned.voltages[last - node]).toBeCloseTo(volts, 6);
    });
  });

  it('folding gives what a dense decomposition gives, and finds the same matrices definite', () => {
    const less = fc.oneof(fc.constant(0), fc.double({ min: 0.001, max: 2, noNaN: true }));
    fc.assert(
      fc.property(randomNetwork({ ...making, leastOhm: 0.01 }), fc.nat(24), less, (network, at, shunt) => {
        const { nodes, branches, loads } = network;
        const shunts = new Float64Array(nodes);
        shunts[0] = 1;
        shunts[at % nodes] = (shunts[at % nodes] as number) - shunt;
        const drawn = new Float64Array(nodes);
        for (const load of loads) drawn[load.node] = 'amps' in load ? load.amps : load.watts;
        const folded = solveLinear(foldingOf(nodes, branches), shunts, drawn);
        const dense = new CholeskyDecomposition(Matrix.add(laplacian(network), Matrix.diag([...shunts])));
        expect(folded !== null).toBe(dense.isPositiveDefinite());
        if (folded === null) return;
        const expected = dense.solve(Matrix.columnVector([...drawn])).to1DArray();
        const greatest = Math.max(...expected, 1e-9);
        for (const [node, drop] of expected.entries()) {
          expect(Math.abs((folded[node] as number) - drop)).toBeLessThan(1e-6 * greatest);
        }
      }),
      { numRuns: 200 },
    );
  });
});
