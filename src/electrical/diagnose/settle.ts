import { componentsOf } from '../network/components.js';
import type { Network, Solution, Source } from '../network/network.js';
import { solveNetwork } from '../network/solve.js';

/** Stands for no electromotive force, which a source has to have: a microvolt. */
const NO_EMF_V = 1e-6;

/** In so many rounds devices drop out; what still changes then is taken as it is. */
const MOST_ROUNDS = 6;

/** A fault between the wires, as a source that takes current and gives none. */
function faultAt(node: number, ohm: number): Source {
  return { node, emfV: NO_EMF_V, ohm, limitA: Number.POSITIVE_INFINITY, twoWay: true };
}

/** What is cut off from every supply draws nothing. */
export function solveFed(network: Network): Solution {
  const dead = new Set<number>();
  for (const { network: part, points } of componentsOf(network)) {
    if (part.sources.length === 0) for (const point of points) dead.add(point);
  }
  return solveNetwork({ ...network, loads: network.loads.filter(({ node }) => !dead.has(node)) });
}

/**
 * The network with a fault between the wires. Devices below the voltage at which they must work draw nothing: first all
 * are off, those that would have enough are switched on, those that then lack it off again, until it stays so.
 * Without the fault the sources come first, so their currents stand first in the solution.
 */
export function solveShort(network: Network, fault: { node: number; ohm: number }, hardDeviceV: number): Solution {
  const sources = [...network.sources, faultAt(fault.node, fault.ohm)];
  const off: Network = { ...network, sources, loads: [] };
  let solution = solveFed(off);
  let on = network.loads;
  for (let round = 0; round < MOST_ROUNDS && solution.outcome === 'solved'; round++) {
    const { voltages } = solution;
    const left = on.filter(({ node }) => (voltages[node] ?? 0) >= hardDeviceV);
    if (round > 0 && left.length === on.length) break;
    on = left;
    const next = solveFed({ ...off, loads: on });
    solution = next.outcome === 'solved' ? next : solveFed(off);
    if (next.outcome !== 'solved') break;
  }
  return solution;
}
