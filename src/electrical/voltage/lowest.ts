import type { Solution, Unsolvable } from '../network/network.js';

/** The lowest voltage on a segment, and where; or why there is no operating point. */
export type Lowest =
  | { readonly v: number; readonly point: number | null }
  | { readonly because: Unsolvable['because'] };

/**
 * The lowest voltage of some points.
 * @param first node of the segment's first point
 * @param points positions in the layout, at least one
 */
export function lowestAmong(solution: Solution, first: number, points: Iterable<number>): Lowest {
  if (solution.outcome === 'unsolvable') return { because: solution.because };
  let lowest: { v: number; point: number | null } = { v: Number.POSITIVE_INFINITY, point: null };
  for (const point of points) {
    const v = solution.voltages[first + point] ?? 0;
    if (v < lowest.v) lowest = { v, point };
  }
  return lowest;
}

/** The lower of two; no operating point is lower than any. */
export function lower(a: Lowest, b: Lowest): Lowest {
  if ('because' in a) return a;
  if ('because' in b) return b;
  return b.v < a.v ? b : a;
}

/** The voltage, or null where there is no operating point. */
export function voltageOf(lowest: Lowest): number | null {
  return 'v' in lowest ? lowest.v : null;
}
