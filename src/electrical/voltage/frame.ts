import type { Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import type { Layout, Site } from '../../site/site.js';
import { toA } from '../../units.js';
import type { FeedGroup } from '../feed-group.js';
import type { Branch, Network, NetworkLoad } from '../network/network.js';
import { asLoad, type Draw, drawsOf } from './draw.js';
import { terminalsOf, type VoltageCase } from './sources.js';

/** The cable of a segment within the network of its feed group. */
interface Laid {
  readonly layout: Layout;
  /** Node of its first point; the others follow. */
  readonly first: number;
}

/**
 * The network of a feed group without its loads: a node for each supply, and one for each point of each segment whose
 * layout says where its supplies sit. Of other segments nobody knows the cable; what they draw is drawn at the supply,
 * which is exact for the segments whose cable is known as long as the current does not depend on the voltage.
 */
export interface Frame {
  readonly group: FeedGroup;
  readonly site: Site;
  readonly policy: Policy;
  readonly nodes: number;
  readonly branches: readonly Branch[];
  /** By the supply's device id. */
  readonly supplyNode: ReadonlyMap<string, number>;
  readonly laid: ReadonlyMap<Segment, Laid>;
}

export function frameOf(group: FeedGroup, site: Site, policy: Policy): Frame {
  const supplyNode = new Map(group.supplies.map(({ device }, node) => [device.id, node]));
  const laid = new Map<Segment, Laid>();
  const branches: Branch[] = [];
  let nodes = group.supplies.length;
  for (const segment of group.segments) {
    const layout = site.segments.get(segment.id)?.layout ?? null;
    if (layout === null || !segment.supplies.every(({ device }) => layout.pointOf.has(device.id))) continue;
    const first = nodes;
    nodes += layout.points.length;
    laid.set(segment, { layout, first });
    for (const { from, to, ohm } of layout.runs) branches.push({ from: first + from, to: first + to, ohm });
    for (const { device } of segment.supplies) {
      const at = first + (layout.pointOf.get(device.id) ?? 0);
      branches.push({ from: supplyNode.get(device.id) ?? 0, to: at, ohm: 0 });
    }
  }
  return { group, site, policy, nodes, branches, supplyNode, laid };
}

/** Where what the sheet does not place is taken to be, as shares of each draw by node. */
export type Spread = (draw: Draw) => readonly (readonly [node: number, share: number])[];

/** The network with its loads, in one of the cases. @param spread of the segment's draws that are not placed */
export function networkOf(frame: Frame, segment: Segment, of: VoltageCase, spread: Spread): Network {
  const { group, site, policy, nodes, branches } = frame;
  return {
    nodes,
    branches,
    sources: group.supplies.map((supply, node) => {
      const { emfV, ohm, limitA } = terminalsOf(supply, of, site, policy);
      return { node, emfV, ohm, limitA };
    }),
    loads: group.segments.flatMap((one) =>
      loadsOf(frame, one, one === segment ? spread : () => [[supplyNodeOf(frame, one), 1]]),
    ),
  };
}

function loadsOf(frame: Frame, segment: Segment, spread: Spread): NetworkLoad[] {
  const { site, policy, laid } = frame;
  const own = laid.get(segment);
  const auxiliaryUa = site.segments.get(segment.id)?.auxiliaryUa ?? 0;
  const loads: NetworkLoad[] =
    auxiliaryUa === 0 ? [] : [{ node: supplyNodeOf(frame, segment), amps: toA(auxiliaryUa) }];
  for (const draw of drawsOf(segment, own?.layout.pointOf ?? new Map())) {
    const places = own !== undefined && draw.point !== null ? [[own.first + draw.point, 1] as const] : spread(draw);
    for (const [node, share] of places) loads.push(asLoad(node, draw.ua * share, policy));
  }
  return loads;
}

/** Where what is drawn beside the bus is taken from: the supply of the segment that is rated highest. */
export function supplyNodeOf({ supplyNode }: Frame, { supplies }: Segment): number {
  const [largest] = [...supplies].sort((a, b) => (b.ratingUa ?? 0) - (a.ratingUa ?? 0));
  return (largest && supplyNode.get(largest.device.id)) ?? 0;
}
