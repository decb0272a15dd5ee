import type { Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import { ohmPerKmAt } from '../../site/cables.js';
import type { SegmentSite } from '../../site/site.js';
import { greatest } from '../../units.js';
import { totalLengthM } from '../cable.js';
import { farthestApart } from '../distances.js';
import type { KnownLength } from './by-length.js';

/** Something is not placed, and there is more cable than the runs tell of: it may hang on what is not drawn. */
export function lacksRuns({ loads }: Segment, { layout, totalLengthM: saidM }: SegmentSite): boolean {
  if (layout === null) return true;
  const isAllPlaced = loads.every(({ device }) => layout.pointOf.has(device.id));
  return !isAllPlaced && saidM !== null && saidM > totalLengthM(layout);
}

/** How far a device may be from a supply by what the sheet says; null if it says nothing of lengths. */
export function knownLengthOf(entry: SegmentSite, policy: Policy): KnownLength | null {
  const { farthestM } = entry;
  const totalM = totalOf(entry);
  const mostM = farthestM ?? spanOf(entry) ?? totalM;
  if (mostM === null) return null;
  return { mostM, isExact: farthestM !== null, totalM, ohmPerM: ohmPerMOf(entry, policy) };
}

function totalOf({ layout, totalLengthM: saidM }: SegmentSite): number | null {
  if (layout === null) return saidM;
  return Math.max(saidM ?? 0, totalLengthM(layout));
}

/** With runs for all of the cable nothing is farther from a supply than the two points that are farthest apart. */
function spanOf({ layout, totalLengthM: saidM }: SegmentSite): number | null {
  if (layout === null || (saidM !== null && saidM > totalLengthM(layout))) return null;
  const span = farthestApart(layout, [...layout.points.keys()]);
  return span !== null && Number.isFinite(span.lengthM) ? span.lengthM : null;
}

/** Of the segment's cable and its runs, Ω/m. */
function ohmPerMOf({ cable, layout }: SegmentSite, policy: Policy): KnownLength['ohmPerM'] {
  const ownPerKm = cable ? ohmPerKmAt(cable.loopOhmPerKm, cable.temperatureC, cable.pairs) : policy.loopOhmPerKm;
  const runs = (layout?.runs ?? []).filter(({ lengthM }) => lengthM > 0).map(({ ohm, lengthM }) => ohm / lengthM);
  const all = [ownPerKm / 1000, ...runs];
  return { most: greatest(all), least: -greatest(all.map((ohm) => -ohm)) };
}
