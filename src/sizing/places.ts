import { distancesFrom, farthestApart } from '../electrical/distances.js';
import type { Segment } from '../plant/plant.js';
import type { Layout } from '../site/site.js';

/** At so many places a second supply is tried; of more that are far enough these are taken evenly by distance. */
const MOST_PLACES = 24;

/** The point at which the first of the present supplies sits; null where none is there or the sheet does not say. */
export function homeOf({ supplies }: Segment, layout: Layout): number | null {
  const [first] = supplies;
  if (first !== undefined) return layout.pointOf.get(first.device.id) ?? null;
  return middleOf(layout);
}

/**
 * For a segment without a supply: the point from which the farther end of the longest way is nearest, so that the drop
 * over the cable is about the least. Exact in a tree, good enough elsewhere.
 */
function middleOf(layout: Layout): number {
  const ends = farthestApart(layout, [...layout.points.keys()]);
  if (ends === null) return 0;
  const [fromOne, fromOther] = [distancesFrom(layout, [ends.from]), distancesFrom(layout, [ends.to])];
  const fartherM = layout.points.map((_, point) => Math.max(fromOne[point] ?? 0, fromOther[point] ?? 0));
  return fartherM.reduce((best, lengthM, point) => (lengthM < (fartherM[best] ?? 0) ? point : best), 0);
}

/** Points at least so far along the cable from another, nearest first. */
export function placesApart(layout: Layout, from: number, apartM: number): number[] {
  const distances = distancesFrom(layout, [from]);
  const far = [...distances.entries()].filter(([, lengthM]) => Number.isFinite(lengthM) && lengthM >= apartM);
  const points = far.sort(([a, aM], [b, bM]) => aM - bM || a - b).map(([point]) => point);
  if (points.length <= MOST_PLACES) return points;
  const step = (points.length - 1) / (MOST_PLACES - 1);
  return Array.from({ length: MOST_PLACES }, (_, at) => points[Math.round(at * step)] ?? 0);
}
