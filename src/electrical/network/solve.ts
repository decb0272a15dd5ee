import { checkNetwork } from './check.js';
import { componentsOf } from './components.js';
import { conductance, draws, type Network, type Solution, type SourceState } from './network.js';
import { operatingPoint } from './operating-point.js';

/**
 * Voltages and currents of a direct-current network, by the nodal method (Kirchhoff's laws); formulas in
 * `operating-point.ts`, `one-way.ts` and `linear.ts`. Of several states with constant power it is the one of the
 * greatest voltages, in which a supply that is switched on comes to rest. Parts that do not hang together are solved
 * each by itself; one part without a solution leaves the whole without.
 * @throws RangeError for what is no network, see `checkNetwork`
 */
export function solveNetwork(network: Network): Solution {
  checkNetwork(network);
  const components = componentsOf(network);
  if (components.some(({ network: part }) => part.sources.length === 0 && part.loads.some(draws))) {
    return { outcome: 'unsolvable', because: 'no source reaches the load' };
  }
  const voltages = new Array<number>(network.nodes).fill(0);
  const sourceAmps = new Array<number>(network.sources.length).fill(0);
  const sourceStates = new Array<SourceState>(network.sources.length).fill('feeding');
  for (const { network: part, points, sources } of components) {
    if (part.sources.length === 0) continue;
    const point = operatingPoint(part);
    if (typeof point === 'string') return { outcome: 'unsolvable', because: point };
    points.forEach((whole, own) => {
      voltages[whole] = point.voltages[own] as number;
    });
    point.sources.forEach(({ amps, state }, own) => {
      const whole = sources[own] as number;
      sourceAmps[whole] = amps;
      sourceStates[whole] = state;
    });
  }
  const branchAmps = network.branches.map(({ from, to, ohm }) => {
    return ((voltages[from] as number) - (voltages[to] as number)) * conductance(ohm);
  });
  return { outcome: 'solved', voltages, sourceAmps, sourceStates, branchAmps };
}
