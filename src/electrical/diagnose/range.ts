/** What a figure may be: exact where both ends are the same. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

export function exactly(value: number): Range {
  return { low: value, high: value };
}

/** How far two ranges are apart; 0 where they meet. */
export function apart(a: Range, b: Range): number {
  return Math.max(0, a.low - b.high, b.low - a.high);
}

export function shifted({ low, high }: Range, by: number): Range {
  return { low: low + by, high: high + by };
}

/** All that is in either of two ranges, and between them. */
export function hull(a: Range, b: Range): Range {
  return { low: Math.min(a.low, b.low), high: Math.max(a.high, b.high) };
}

/** The value of a range that is nearest to another one. */
export function nearestTo({ low, high }: Range, other: Range): number {
  if (other.high < low) return low;
  if (other.low > high) return high;
  return Math.min(high, Math.max(low, other.low));
}

/** Of several figures the lowest, whichever that is. */
export function lowestOf(ranges: readonly Range[]): Range {
  return ranges.reduce((a, b) => ({ low: Math.min(a.low, b.low), high: Math.min(a.high, b.high) }));
}

/** Of several figures the highest, whichever that is. */
export function highestOf(ranges: readonly Range[]): Range {
  return ranges.reduce((a, b) => ({ low: Math.max(a.low, b.low), high: Math.max(a.high, b.high) }));
}
