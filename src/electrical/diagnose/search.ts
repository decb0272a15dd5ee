/** Where a figure is looked for: evenly, or by equal ratios, from a first guess on. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly by: 'steps' | 'ratios';
}

const GUESSES = 12;
const GOLDEN_STEPS = 18;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * The least of a function over a span: guesses over all of it, then a golden section between the neighbours of the best
 * one, with 30 values of the function in all. Of equal guesses the one nearest to the start counts.
 * @returns where it is, and what it is there
 */
export function leastOver(span: Span, valueAt: (x: number) => number): { x: number; value: number } {
  const place = (share: number) =>
    span.by === 'ratios' ? span.from * (span.to / span.from) ** share : span.from + (span.to - span.from) * share;
  const values = Array.from({ length: GUESSES }, (_, at) => valueAt(place(at / (GUESSES - 1))));
  const best = values.indexOf(Math.min(...values));
  let low = Math.max(0, best - 1) / (GUESSES - 1);
  let high = Math.min(GUESSES - 1, best + 1) / (GUESSES - 1);
  const found = { x: place(best / (GUESSES - 1)), value: values[best] ?? Number.POSITIVE_INFINITY };
  const look = (share: number): number => {
    const value = valueAt(place(share));
    if (value < found.value) Object.assign(found, { x: place(share), value });
    return value;
  };
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atA, atB] = [look(a), look(b)];
  for (let step = 2; step < GOLDEN_STEPS; step++) {
    if (atA <= atB) {
      [high, b, atB] = [b, a, atA];
      a = high - GOLDEN * (high - low);
      atA = look(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + GOLDEN * (high - low);
      atB = look(b);
    }
  }
  return found;
}
