// @ts-check

/** The value that a share of the values does not exceed. @param {readonly number[]} values @param {number} share */
export function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
}

const SLICES = 12;

/**
 * By how much memory has risen over the second half of a run, when it has warmed up. Between two collections memory
 * goes up and down by whole archives; what a leak lifts is the floor. So the half is cut into slices, and a line is laid
 * by least squares through the least value of each; its rise from the first slice to the last is the answer.
 * @param {readonly number[]} samples taken at even times
 */
export function riseOfFloor(samples) {
  const half = samples.slice(samples.length >> 1);
  const floors = Array.from({ length: SLICES }, (_, index) => {
    const [from, to] = [index, index + 1].map((edge) => Math.floor((edge * half.length) / SLICES));
    return Math.min(...half.slice(from, to));
  }).filter(Number.isFinite);
  return slope(floors) * (floors.length - 1);
}

/** Of the line of least squares through values at 0, 1, 2, … @param {readonly number[]} values */
function slope(values) {
  const middle = (values.length - 1) / 2;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const above = values.reduce((sum, value, at) => sum + (at - middle) * (value - mean), 0);
  const below = values.reduce((sum, _, at) => sum + (at - middle) ** 2, 0);
  return below === 0 ? 0 : above / below;
}
