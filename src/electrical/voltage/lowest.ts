import type { Solution, Unsolvable } from '../network/network.js';

/** The lowest voltage on a segment, and where; or why there is no operating point. */
export type Lowest =
  | { readonly v: number; readonly point: number | null }
  | { readonly because: Unsolvable['because'] };

/** @param first node of the segment's first point, of so many */
export function lowestAmong(solution: Solution, first: number, points: number): Lowest {
  if (solution.outcome === 'unsolvable') return { because: solution.because };
  let point = 0;
  for (let at = 1; at < points; at++) {
    if ((solution.voltages[first + at] ?? 0) < (solution.voltages[first + point] ?? 0)) point = at;
  }
  return { v: solution.voltages[first + point] ?? 0, point };
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
