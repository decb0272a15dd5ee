import type { Network, Solution } from '../network/network.js';
import { solveNetwork } from '../network/solve.js';

/**
 * Solves a network and tells what is to blame where there is no working point: with constant power the current rises
 * until a supply is at its limit, also where it is the cable that cannot carry the load. That is so if there is none
 * without limits either.
 */
export function solve(network: Network): Solution {
  const solution = solveNetwork(network);
  if (solution.outcome === 'solved' || solution.because !== 'beyond the limit of the supplies') return solution;
  const unlimited = network.sources.map((source) => ({ ...source, limitA: Number.POSITIVE_INFINITY }));
  const freely = solveNetwork({ ...network, sources: unlimited });
  return freely.outcome === 'unsolvable' ? freely : solution;
}
