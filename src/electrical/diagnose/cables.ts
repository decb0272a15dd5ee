import type { ExpectedInput } from '../expected.js';
import { fitted, type Hypothesis, supposed } from './hypothesis.js';
import { mostRuns, spread } from './places.js';

/** Cable of up to ten times the resistance is looked for. */
const MOST_FACTOR = 10;

/** The cable is longer, or thinner, than the sheet says: every run alike. */
export function longerCable(input: ExpectedInput): Hypothesis[] {
  const { layout, farthestM, totalLengthM } = input.entry;
  if (layout === null && farthestM === null && totalLengthM === null) return [];
  return [
    fitted('cable longer than said', input, {
      span: { from: 1, to: MOST_FACTOR, by: 'ratios' },
      change: (ohmFactor) => ({ ohmFactor }),
      text: (factor) =>
        `The cable has ${Math.round(factor * 100) / 100} times the resistance that follows from the sheet: it is longer or thinner, or a joint is bad.`,
    }),
  ];
}

/** A run of the cable is open. */
export function openCable(input: ExpectedInput): Hypothesis[] {
  const { layout } = input.entry;
  return spread([...(layout?.runs ?? []).entries()], mostRuns(input)).map(([openRun, { from, to }]) => {
    const text = `The cable is open between ${layout?.points[from]} and ${layout?.points[to]}.`;
    return supposed('cable open', input, { openRun }, text);
  });
}
