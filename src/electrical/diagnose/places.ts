import { sum } from '../../units.js';
import type { ExpectedInput } from '../expected.js';

/** Somewhere on the segment where something may be wrong. */
export interface Place {
  /** Position in the layout; null: anywhere, as no runs are known or nothing is placed. */
  readonly point: number | null;
  /** What the sheet calls it; null where point is. */
  readonly name: string | null;
  /** What is drawn there, µA. */
  readonly ua: number;
}

/**
 * At how many places causes are looked for: each takes a fixed number of solutions, whose time grows with the points. So
 * all of it grows with the points of a small cable, and no faster on a large one.
 */
export function mostPlaces({ entry: { layout } }: ExpectedInput): number {
  return withinWork(layout?.points.length ?? 1, { least: 6, most: 16, work: 4000 });
}

/** How many runs are opened in turn, one solution each. */
export function mostRuns({ entry: { layout } }: ExpectedInput): number {
  return withinWork(layout?.points.length ?? 1, { least: 20, most: 200, work: 40_000 });
}

function withinWork(points: number, { least, most, work }: { least: number; most: number; work: number }): number {
  return Math.max(least, Math.min(most, Math.floor(work / Math.max(1, points))));
}

/** So many of some, evenly spread over their order, the first among them. */
export function spread<T>(all: readonly T[], most: number): T[] {
  if (all.length <= most) return [...all];
  return all.filter((_, at) => Math.floor((at * most) / all.length) !== Math.floor(((at - 1) * most) / all.length));
}

/** The points that carry loads, in the order of the layout; one that stands for anywhere where there are none. */
export function placesOf({ segment, entry: { layout } }: ExpectedInput, isLaid: boolean): Place[] {
  const placed = new Map<number, number>();
  if (isLaid && layout !== null) {
    for (const { device, current } of segment.loads) {
      const point = layout.pointOf.get(device.id);
      if (point !== undefined) placed.set(point, (placed.get(point) ?? 0) + current.ua);
    }
  }
  if (placed.size === 0) {
    return [{ point: null, name: null, ua: sum(segment.loads.map(({ current }) => current.ua)) }];
  }
  return [...placed]
    .sort(([a], [b]) => a - b)
    .map(([point, ua]) => ({ point, name: layout?.points[point] ?? String(point), ua }));
}

/** The points at which supplies sit and no load, where a short leaves nothing to anybody. @param places with loads */
export function supplyPlaces({ segment, entry: { layout } }: ExpectedInput, places: readonly Place[]): Place[] {
  const loaded = new Set(places.map(({ point }) => point));
  if (layout === null || loaded.has(null)) return [];
  const points = new Set(segment.supplies.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []));
  return [...points]
    .filter((point) => !loaded.has(point))
    .map((point) => ({ point, name: layout.points[point] ?? String(point), ua: 0 }));
}
