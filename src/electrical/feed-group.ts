import type { Segment, Supply } from '../plant/plant.js';

/**
 * Segments that share supplies, directly or through others: what a supply gives to one of them it cannot give to another.
 * A segment with supplies of its own is a group of one.
 */
export interface FeedGroup {
  readonly segments: readonly Segment[];
  /** Each supply once. */
  readonly supplies: readonly Supply[];
}

/**
 * A part of a group that has to live on some supplies alone: every segment in it is fed by none but these. The group is
 * carried exactly if each such part is (Hall's condition for a transport from supplies to segments).
 */
export interface FeedPart {
  readonly segments: readonly Segment[];
  readonly supplies: readonly Supply[];
}

/** With more supplies in one group than this its parts are not gone through (they double with each). */
export const MOST_SHARED_SUPPLIES = 10;

/** The group of each segment. Supplies are told apart by the id of their device. */
export function feedGroupsOf(segments: readonly Segment[]): ReadonlyMap<Segment, FeedGroup> {
  const groups = new Map<Segment, FeedGroup>();
  const bySupply = segmentsBySupply(segments);
  for (const segment of segments) {
    if (groups.has(segment)) continue;
    const group = groupAround(segment, bySupply);
    for (const member of group.segments) groups.set(member, group);
  }
  return groups;
}

function segmentsBySupply(segments: readonly Segment[]): Map<string, Segment[]> {
  const bySupply = new Map<string, Segment[]>();
  for (const segment of segments) {
    for (const { device } of segment.supplies) {
      const fed = bySupply.get(device.id);
      if (fed === undefined) bySupply.set(device.id, [segment]);
      else fed.push(segment);
    }
  }
  return bySupply;
}

function groupAround(start: Segment, bySupply: ReadonlyMap<string, readonly Segment[]>): FeedGroup {
  const segments = new Set([start]);
  const supplies = new Map<string, Supply>();
  for (const { supplies: feeding } of segments) {
    for (const supply of feeding) {
      if (supplies.has(supply.device.id)) continue;
      supplies.set(supply.device.id, supply);
      for (const fed of bySupply.get(supply.device.id) ?? []) segments.add(fed); // is gone through as well
    }
  }
  return { segments: [...segments], supplies: [...supplies.values()] };
}

/**
 * The parts of a group that a segment belongs to.
 * @returns null if the group shares more supplies than can be gone through
 */
export function partsWith(segment: Segment, { segments, supplies }: FeedGroup): FeedPart[] | null {
  if (segments.length === 1) return [{ segments, supplies }];
  if (supplies.length > MOST_SHARED_SUPPLIES) return null;
  const bit = new Map(supplies.map(({ device }, position) => [device.id, 1 << position]));
  const maskOf = ({ supplies: own }: Segment) => own.reduce((mask, { device }) => mask | (bit.get(device.id) ?? 0), 0);
  const masks = segments.map(maskOf);
  const own = maskOf(segment);
  const parts: FeedPart[] = [];
  for (let mask = 1; mask < 1 << supplies.length; mask++) {
    if ((mask & own) !== own) continue;
    parts.push({
      segments: segments.filter((_, at) => ((masks[at] ?? 0) & ~mask) === 0),
      supplies: supplies.filter((_, at) => (mask & (1 << at)) !== 0),
    });
  }
  return parts;
}
