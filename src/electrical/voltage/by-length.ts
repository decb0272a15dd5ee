import type { Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import type { Site } from '../../site/site.js';
import { greatest, sum, toA } from '../../units.js';
import type { FeedGroup } from '../feed-group.js';
import type { Network, NetworkLoad, Solution } from '../network/network.js';
import { asLoad } from './draw.js';
import { type Lowest, lowestAmong, voltageOf } from './lowest.js';
import { solve } from './solve.js';
import { type Terminals, terminalsOf, type VoltageCase } from './sources.js';

/** What is known of a segment's cable where its runs are not: how far a device may be from a supply, and of what it is. */
export interface KnownLength {
  /** No device is farther along the cable than this, m. */
  readonly mostM: number;
  /** The farthest device is at exactly that distance. */
  readonly isExact: boolean;
  /** All cable of the segment, m; null if not known. */
  readonly totalM: number | null;
  /** Resistance of the loop, Ω/m; cables of several kinds may be in it. */
  readonly ohmPerM: { readonly least: number; readonly most: number };
}

/** One case, worked out from a length alone. */
export interface ByLength {
  /** Null where no bound can be given. */
  readonly unfavourable: Lowest | null;
  readonly favourable: Lowest;
  /** With the load spread evenly along the cable, by {@link PARTS} equal parts of it: an estimate, no bound. */
  readonly estimate: readonly (number | null)[];
  /** At the supply in the unfavourable and the favourable case, V. */
  readonly atSupply: { readonly lowV: number | null; readonly highV: number | null };
}

/** Into so many parts the cable is cut for the estimate. */
export const PARTS = 20;

/**
 * Bounds of the lowest voltage on a segment of which a length is known and no runs.
 *
 * - Unfavourable: the whole load at the end, from the supply with the lowest voltage alone. No current on the way to a
 *   device is greater than the whole load, and further supplies only raise the voltage. That holds as long as no supply
 *   is at its limit: where one may be, the way may lead to another one, and only the whole cable bounds it.
 * - Favourable: all at the supply with the highest voltage (of several, as if they had no resistance, as nobody knows
 *   what each gives), the smallest device alone at the end. Rings and further
 *   supplies may feed it over several ways at once. With N(x) of them at a distance of x from the device, the resistance
 *   to all supplies is at least ∫ r/N dx, and the ways together are no longer than all cable, T ≥ ∫ N dx; so by Cauchy
 *   and Schwarz it is at least r·d²/T.
 */
export function byLength(
  segment: Segment,
  {
    group,
    site,
    policy,
    of,
    known,
  }: { group: FeedGroup; site: Site; policy: Policy; of: VoltageCase; known: KnownLength },
): ByLength {
  const terminals = segment.supplies.map((supply) => terminalsOf(supply, of, site, policy));
  const weakest = terminals.reduce((a, b) => (b.emfV < a.emfV ? b : a));
  const strongest = terminals.reduce((a, b) => (b.emfV > a.emfV ? b : a));
  const beside = besideLoads(segment, group, site, policy);
  const currents = segment.loads.map(({ current }) => current.ua);
  const wholeUa = sum(currents);
  const smallestUa = currents.length === 0 ? 0 : Math.min(...currents);
  const solveWith = (source: Terminals, ohm: number, loads: readonly NetworkLoad[], nodes = 2): Solution =>
    solve(chain(source, ohm, [...beside, ...loads], nodes));

  const all = [asLoad(1, wholeUa, policy)];
  const lengthM = boundingLengthM(terminals, wholeUa, known);
  const single = terminals.length === 1 ? weakest : withoutLimit(terminals, weakest);
  const low = lengthM === null ? null : solveWith(single, lengthM * known.ohmPerM.most, all);
  const best = terminals.length === 1 ? strongest : { ...withoutLimit(terminals, strongest), ohm: 0 };
  const high = solveWith(best, leastOhm(known, policy), [
    asLoad(0, wholeUa - smallestUa, policy),
    asLoad(1, smallestUa, policy),
  ]);
  const parts = Array.from({ length: PARTS }, (_, at) => asLoad(at + 1, wholeUa / PARTS, policy));
  const even = solveWith(best, (known.mostM * known.ohmPerM.most) / PARTS, parts, PARTS + 1);
  return {
    unfavourable: low && lowestAmong(low, 0, [1]),
    favourable: lowestAmong(high, 0, [1]),
    estimate: Array.from({ length: PARTS + 1 }, (_, at) => voltageOf(lowestAmong(even, at, [0]))),
    atSupply: {
      lowV: low && voltageOf(lowestAmong(low, 0, [0])),
      highV: voltageOf(lowestAmong(high, 0, [0])),
    },
  };
}

/** @returns the least resistance from the supplies to the farthest device, Ω; all cable where not known is what is allowed */
function leastOhm({ mostM, isExact, totalM, ohmPerM }: KnownLength, { cablePerSegmentM }: Policy): number {
  if (!isExact || mostM === 0) return 0;
  return (ohmPerM.least * mostM ** 2) / Math.max(totalM ?? cablePerSegmentM, mostM);
}

/** Nodes in a row, each `ohm` from the next, with the source at the first. */
function chain(
  { emfV, ohm: sourceOhm, limitA }: Terminals,
  ohm: number,
  loads: readonly NetworkLoad[],
  nodes: number,
): Network {
  const branches = Array.from({ length: nodes - 1 }, (_, from) => ({ from, to: from + 1, ohm }));
  return { nodes, branches, sources: [{ node: 0, emfV, ohm: sourceOhm, limitA }], loads };
}

/** One supply in place of all: what they deliver together, behind the greatest of their resistances. */
function withoutLimit(terminals: readonly Terminals[], { supply, emfV }: Terminals): Terminals {
  const limitA = sum(terminals.map(({ limitA }) => limitA));
  return { supply, emfV, ohm: greatest(terminals.map(({ ohm }) => ohm)), limitA };
}

/** How far from the supply that feeds it a device may be, m; null if that is not bounded. */
function boundingLengthM(
  terminals: readonly Terminals[],
  wholeUa: number,
  { mostM, totalM }: KnownLength,
): number | null {
  const mayBeLimited = terminals.length > 1 && terminals.some(({ limitA }) => limitA < toA(wholeUa));
  return mayBeLimited ? totalM : mostM;
}

/** What else the supplies carry: auxiliary loads, and segments that share them. It is drawn at the supply. */
function besideLoads(segment: Segment, { segments }: FeedGroup, site: Site, policy: Policy): NetworkLoad[] {
  return segments.flatMap((one) => [
    { node: 0, amps: toA(site.segments.get(one.id)?.auxiliaryUa ?? 0) },
    ...(one === segment ? [] : one.loads.map(({ current }) => asLoad(0, current.ua, policy))),
  ]);
}
