import type { Network, NetworkLoad, Solved, Source } from '../../../src/electrical/network/network.js';
import { solveNetwork } from '../../../src/electrical/network/solve.js';

/** A source as the handbooks have it: ideal, and taking current too. */
export function feedingPoint(node: number, emfV: number): Source {
  return { node, emfV, ohm: 0, limitA: Number.POSITIVE_INFINITY, twoWay: true };
}

/** A supply of 30 V without inner resistance, unless it is told otherwise. */
export function supply(node: number, more: Partial<Source> = {}): Source {
  return { node, emfV: 30, ohm: 0, limitA: Number.POSITIVE_INFINITY, ...more };
}

/** Points in a row; the resistance of each section between them, Ω. */
export function row(sections: readonly number[]): Pick<Network, 'nodes' | 'branches'> {
  return { nodes: sections.length + 1, branches: sections.map((ohm, from) => ({ from, to: from + 1, ohm })) };
}

/** A row from a feeding point 0 on: loads as [A, m from there], and one more point at the end where there is a length. */
export function distributor(ohmPerM: number, loads: readonly (readonly [number, number])[], lengthM?: number) {
  const places = [0, ...loads.map(([, at]) => at), ...(lengthM === undefined ? [] : [lengthM])];
  const sections = places.slice(1).map((at, before) => (at - (places[before] as number)) * ohmPerM);
  return { ...row(sections), loads: loads.map(([amps], before): NetworkLoad => ({ node: before + 1, amps })) };
}

/** The solution of a network that has one. */
export function solved(network: Network): Solved {
  const solution = solveNetwork(network);
  if (solution.outcome !== 'solved') throw new Error(`unsolvable: ${solution.because}`);
  return solution;
}

/** Why a network has no solution; null where it has one. */
export function causeOf(network: Network): string | null {
  const solution = solveNetwork(network);
  return solution.outcome === 'solved' ? null : solution.because;
}

/** What a load draws at some voltages, A. */
export function drawnAmps(load: NetworkLoad, voltages: readonly number[]): number {
  return 'amps' in load ? load.amps : load.watts / (voltages[load.node] as number);
}
