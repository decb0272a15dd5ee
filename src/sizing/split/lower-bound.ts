/**
 * Fewest segments that could do, before any search: the greatest of sum over capacity, items over places, and L2 of
 * Martello and Toth (Knapsack Problems, 1990, section 8.3.2; from memory, the formula derived again here).
 * @param sizes currents of the items, in any one unit, none above the capacity
 * @param capacity of a segment, same unit
 * @param taken places that the items take, where some take several
 */
export function leastSegments(
  sizes: readonly number[],
  capacity: number,
  places: number,
  taken = sizes.length,
): number {
  if (sizes.length === 0) return 0;
  const bySum = capacity === 0 ? 1 : over(total(sizes), capacity);
  return Math.max(1, bySum, over(taken, places), martelloToth(sizes, capacity));
}

/**
 * L2: for a threshold, items that leave less than it stand alone, those above half the capacity stand apart from one another, and
 * those between the threshold and the half can use only what the latter leave. Every threshold gives a bound; only
 * sizes that occur can be the best.
 */
export function martelloToth(sizes: readonly number[], capacity: number): number {
  const thresholds = new Set([0, ...sizes.filter((size) => 2 * size <= capacity)]);
  return Math.max(...[...thresholds].map((threshold) => boundAt(sizes, capacity, threshold)));
}

function boundAt(sizes: readonly number[], capacity: number, threshold: number): number {
  const large = sizes.filter((size) => 2 * size > capacity);
  const shared = large.filter((size) => size <= capacity - threshold);
  const small = sizes.filter((size) => size >= threshold && 2 * size <= capacity);
  const left = shared.length * capacity - total(shared);
  const beyond = total(small) - left;
  return large.length + (beyond > 0 ? over(beyond, capacity) : 0);
}

function total(sizes: readonly number[]): number {
  return sizes.reduce((sum, size) => sum + size, 0);
}

function over(amount: number, each: number): number {
  return Math.ceil(amount / each);
}
