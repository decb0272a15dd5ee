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
      text:
        (factor) =>
        ({ diagnosis }) =>
          diagnosis.causes.cableLonger(Math.round(factor * 100) / 100),
    }),
  ];
}

/** A run of the cable is open. */
export function openCable(input: ExpectedInput): Hypothesis[] {
  const { layout } = input.entry;
  return spread([...(layout?.runs ?? []).entries()], mostRuns(input)).map(([openRun, { from, to }]) => {
    const ends = { from: layout?.points[from] ?? '', to: layout?.points[to] ?? '' };
    return supposed('cable open', input, { openRun }, ({ diagnosis }) => diagnosis.causes.cableOpen(ends));
  });
}
