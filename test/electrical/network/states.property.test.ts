import fc from 'fast-check';
import { LU, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { conductance, draws, type Network, type SourceState } from '../../../src/electrical/network/network.js';
import { solveNetwork } from '../../../src/electrical/network/solve.js';
import { laplacian } from './dense.js';
import { randomNetwork } from './random-networks.js';

/**
 * With constant currents, what the sources are at can be found without any argument about order: by trying every
 * combination of feeding, blocked and limited, each a system of linear equations.
 */
const STATES: readonly SourceState[] = ['feeding', 'blocked', 'limited'];

function combinations(count: number): SourceState[][] {
  if (count === 0) return [[]];
  return combinations(count - 1).flatMap((rest) => STATES.map((state) => [...rest, state]));
}

/** Voltages if the sources are at these states; null where the equations have no solution. */
function voltagesAt(network: Network, states: readonly SourceState[]): number[] | null {
  const matrix = laplacian(network);
  const given = Matrix.zeros(network.nodes, 1);
  const give = (node: number, amps: number) => given.set(node, 0, given.get(node, 0) + amps);
  for (const [index, { node, emfV, ohm, limitA }] of network.sources.entries()) {
    if (states[index] === 'limited') give(node, limitA);
    if (states[index] !== 'feeding') continue;
    matrix.set(node, node, matrix.get(node, node) + conductance(ohm));
    give(node, emfV * conductance(ohm));
  }
  for (const load of network.loads) give(load.node, 'amps' in load ? -load.amps : Number.NaN);
  const decomposed = new LU(matrix);
  return decomposed.isSingular() ? null : decomposed.solve(given).to1DArray();
}

/** Whether the voltages are what the states say, by more (or, with a negative margin, at worst less) than a margin in V. */
function isConsistent({ sources, loads }: Network, states: readonly SourceState[], volts: number[], marginV: number) {
  const areSourcesRight = sources.every(({ node, emfV, ohm, limitA }, index) => {
    const aboveV = (volts[node] as number) - emfV;
    const limitV = -Math.max(ohm, 1e-6) * limitA;
    if (states[index] === 'blocked') return aboveV >= marginV;
    if (states[index] === 'limited') return aboveV <= limitV - marginV;
    return aboveV <= -marginV && aboveV >= limitV + marginV;
  });
  return areSourcesRight && loads.every((load) => !draws(load) || (volts[load.node] as number) > marginV);
}

describe('the states of the sources', () => {
  it('are those that trying all of them finds, and there is no solution where none fits', () => {
    let [solvable, unsolvable] = [0, 0];
    const making = { mostRings: 3, mostSources: 4, limits: true, mostAmps: 0.6, kinds: 'amps' } as const;
    fc.assert(
      fc.property(randomNetwork(making), (network) => {
        // Without any feeding source nothing holds the voltages: singular, whatever rounding makes of it.
        const tried = combinations(network.sources.length)
          .filter((states) => states.includes('feeding'))
          .map((states) => ({ states, volts: voltagesAt(network, states) }));
        const fitting = (marginV: number) =>
          tried.filter(({ states, volts }) => volts !== null && isConsistent(network, states, volts, marginV));
        const solution = solveNetwork(network);
        if (solution.outcome === 'unsolvable') {
          unsolvable += 1;
          expect(fitting(1e-6)).toEqual([]);
          return;
        }
        solvable += 1;
        const fits = fitting(-1e-6).filter(({ volts }) => {
          return volts?.every((value, node) => Math.abs(value - (solution.voltages[node] as number)) < 1e-4);
        });
        expect(fits.length).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
    expect(Math.min(solvable, unsolvable)).toBeGreaterThan(15);
  });
});
