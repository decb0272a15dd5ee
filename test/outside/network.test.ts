import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Network, NetworkLoad, Solved, Source, SourceState } from '../../src/electrical/network/network.js';
import { solveNetwork } from '../../src/electrical/network/solve.js';
import { type Making, randomNetwork } from '../electrical/network/random-networks.js';
import { needsNgspice, voltagesAtRest } from '../support/ngspice.js';

/**
 * ngspice, a general circuit simulator, finds the voltages of the same networks by other means: without folding, and
 * without any order in which sources are blocked or limited. Every point gets a capacitor that is charged to the highest
 * electromotive force; the network is switched on and left to come to rest. (Its direct way, Newton's method, often
 * finds nothing at the kinks of the supplies, or the lower of two states.)
 *
 * - Where all supplies feed, each is a voltage source behind its resistance.
 * - Where some are blocked or at their limit, each is a current, written out as an expression of its voltage.
 * - A load of constant power is an expression as well; below a voltage that none of these networks comes to it is a
 *   resistance, as real devices give up too.
 *
 * No resistance is 0: over a micro-ohm ngspice does not get to its tolerances.
 */
const NETWORKS = 30;
const AGREED_V = 1e-6;
const GIVES_UP_V = 10;
const CAPACITOR_F = 1e-6;

const nameOf = (node: number) => `n${node}`;

/** A network without its supplies, charged. */
function unfed({ nodes, branches, sources, loads }: Network): string[] {
  const highestV = Math.max(...sources.map(({ emfV }) => emfV));
  return [
    ...branches.map(({ from, to, ohm }, index) => `R${index} ${nameOf(from)} ${nameOf(to)} ${ohm}`),
    ...loads.map((load, index) => drawing(load, index)),
    ...Array.from({ length: nodes }, (_, node) => `C${node} ${nameOf(node)} 0 ${CAPACITOR_F} ic=${highestV}`),
  ];
}

function drawing(load: NetworkLoad, index: number): string {
  const node = nameOf(load.node);
  if ('amps' in load) return `I${index} ${node} 0 ${load.amps}`;
  const asResistance = `${load.watts}*V(${node})/${GIVES_UP_V ** 2}`;
  return `B${index} ${node} 0 I=V(${node})>${GIVES_UP_V} ? ${load.watts}/V(${node}) : ${asResistance}`;
}

function twoWay({ node, emfV, ohm }: Source, index: number): string {
  return `V${index} e${index} 0 ${emfV}\nRE${index} e${index} ${nameOf(node)} ${ohm}`;
}

function oneWay({ node, emfV, ohm, limitA }: Source, index: number): string {
  const most = Math.min(limitA, 1e3);
  return `B_E${index} 0 ${nameOf(node)} I=min(${most}, max(0, (${emfV}-V(${nameOf(node)}))/${ohm}))`;
}

/** Random networks that have a solution of some kind, the same in every run. */
function solvable(making: Making, fits: (states: readonly SourceState[]) => boolean): [Network, Solved][] {
  const drawn = fc.sample(randomNetwork({ ...making, leastOhm: 0.01 }), { seed: 20, numRuns: 20 * NETWORKS });
  const found = drawn.flatMap((network): [Network, Solved][] => {
    const solution = solveNetwork(network);
    if (solution.outcome !== 'solved' || network.loads.length < 3 || !fits(solution.sourceStates)) return [];
    return Math.min(...solution.voltages) > GIVES_UP_V + 2 ? [[network, solution]] : [];
  });
  return found.slice(0, NETWORKS);
}

const allFeed = (states: readonly SourceState[]): boolean => states.every((state) => state === 'feeding');
const notAllFeed = (states: readonly SourceState[]): boolean => !allFeed(states);

const TREES = { mostRings: 0, mostAmps: 0.1 };
const RINGS = { mostRings: 3, mostAmps: 0.1 };
const ONE = { mostSources: 1, limits: false };
const ALIKE = { mostSources: 3, limits: false };
const LIMITED = { mostSources: 3, limits: true };

describe('ngspice finds the same voltages', () => {
  beforeEach(needsNgspice);

  it.each<[string, Making, typeof allFeed, typeof oneWay]>([
    ['in trees with one supply', { ...TREES, ...ONE }, allFeed, twoWay],
    ['in rings with one supply', { ...RINGS, ...ONE }, allFeed, twoWay],
    ['in meshes with supplies that all feed', { ...ALIKE, mostRings: 20, mostAmps: 0.3 }, allFeed, twoWay],
    ['in trees with supplies blocked or limited', { ...TREES, ...LIMITED }, notAllFeed, oneWay],
    ['in rings with supplies blocked or limited', { ...RINGS, ...LIMITED }, notAllFeed, oneWay],
  ])('%s', (_, making, fits, written) => {
    const cases = solvable(making, fits);
    expect(cases).toHaveLength(NETWORKS);
    for (const [network, { voltages }] of cases) {
      const netlist = [...unfed(network), ...network.sources.map(written)];
      const found = voltagesAtRest(
        netlist,
        voltages.map((_volts, node) => nameOf(node)),
      );
      for (const [node, volts] of voltages.entries()) {
        expect(Math.abs(volts - (found[node] as number))).toBeLessThan(AGREED_V);
      }
    }
  });
});
