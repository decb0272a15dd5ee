import fc from 'fast-check';
import type { Branch, Network, NetworkLoad, Source } from '../../../src/electrical/network/network.js';

/** What random networks are made of. */
export interface Making {
  /** Branches beyond those of a tree: each closes a ring. */
  readonly mostRings: number;
  readonly mostSources: number;
  /** Whether supplies may have limits. */
  readonly limits: boolean;
  /** Greatest load at a point: in A, and in W as much as that is at 24 V. */
  readonly mostAmps: number;
  /** Both, where it is not said. */
  readonly kinds?: 'amps' | 'both';
  /** Where it is not said some branches have no resistance. */
  readonly leastOhm?: number;
}

/** Parts of a thousand, so that counterexamples read well. */
const milli = (least: number, most: number) => {
  return fc.integer({ min: Math.round(least * 1000), max: Math.round(most * 1000) }).map((value) => value / 1000);
};

/** Connected networks of 2 to 25 points about a bus: 20 to 31 V, sections of up to 20 Ω, some of 0. */
export function randomNetwork({
  mostRings,
  mostSources,
  limits,
  mostAmps,
  kinds,
  leastOhm = 0,
}: Making): fc.Arbitrary<Network> {
  const ohm = fc.oneof({ weight: 9, arbitrary: milli(0.01, 20) }, { weight: 1, arbitrary: fc.constant(leastOhm) });
  return fc.integer({ min: 2, max: 25 }).chain((nodes) => {
    const node = fc.nat(nodes - 1);
    const tree = fc.tuple(...Array.from({ length: nodes - 1 }, (_, before) => treeBranch(before, ohm)));
    const ring: fc.Arbitrary<Branch> = fc.record({ from: node, to: node, ohm });
    const amps = fc.record({ node, amps: milli(0, mostAmps) });
    const watts = fc.record({ node, watts: milli(0, mostAmps * 24) });
    const load: fc.Arbitrary<NetworkLoad> = kinds === 'amps' ? amps : fc.oneof(amps, watts);
    const limitA = limits ? fc.oneof(milli(0.02, 1), fc.constant(Number.POSITIVE_INFINITY)) : fc.constant(Infinity);
    const source: fc.Arbitrary<Source> = fc.record({ node, emfV: milli(20, 31), ohm: milli(leastOhm, 4), limitA });
    return fc.record({
      nodes: fc.constant(nodes),
      branches: fc
        .tuple(tree, fc.array(ring, { maxLength: mostRings }))
        .map(([along, closing]) => [...along, ...closing]),
      sources: fc.array(source, { minLength: 1, maxLength: mostSources }),
      loads: fc.array(load, { maxLength: 12 }),
    });
  });
}

function treeBranch(before: number, ohm: fc.Arbitrary<number>): fc.Arbitrary<Branch> {
  return fc.record({ from: fc.nat(before), to: fc.constant(before + 1), ohm });
}
