import type { Segment } from '../../plant/plant.js';
import type { Layout } from '../../site/site.js';

/**
 * The points at one of which a load is worst: the ends of the cable, and those on ways between supplies or on rings. On
 * any other way, away from all supplies, the voltage falls outwards, and as low at a point by what is drawn beyond it as
 * by what is drawn there; so its end is as bad as any point of it.
 */
export function worstPlaces({ supplies }: Segment, { points, runs, pointOf }: Layout): number[] {
  const supplied = new Set(supplies.flatMap(({ device }) => pointOf.get(device.id) ?? []));
  const ways: Set<number>[] = points.map(() => new Set());
  runs.forEach(({ from, to }, run) => {
    if (from === to) return;
    ways[from]?.add(run);
    ways[to]?.add(run);
  });
  const ends = new Set(points.flatMap((_, point) => ((ways[point]?.size ?? 0) <= 1 ? [point] : [])));
  const waiting = [...ends].filter((point) => !supplied.has(point));
  const folded = new Set<number>();
  for (let point = waiting.pop(); point !== undefined; point = waiting.pop()) {
    folded.add(point);
    for (const run of ways[point] ?? []) {
      const other = otherEnd(runs[run], point);
      ways[other]?.delete(run);
      if ((ways[other]?.size ?? 0) === 1 && !supplied.has(other)) waiting.push(other);
    }
  }
  return points.flatMap((_, point) => (folded.has(point) && !ends.has(point) ? [] : [point]));
}

function otherEnd(run: { readonly from: number; readonly to: number } | undefined, point: number): number {
  if (run === undefined) throw new Error('no such run');
  return run.from === point ? run.to : run.from;
}
