import { percent } from '../units.js';
import { type IncomparableBecause, waiverFacts } from './judged-waiver.js';
import { waiverRule } from './rule.js';

export const waiverOutgrown = waiverRule({
  id: 'waiver-outgrown',
  title: 'A finding is worse than what was accepted',
  severity: 'warning',
  why: 'What was accepted was a certain figure; a worse one is a risk that nobody has looked at.',
  remedy: 'Bring the figure back to what was accepted, or accept the new one.',
  limit: 'the figure is no worse than `raiseAbove`, or `accepted` where the waiver has none',
  basis: 'common practice',
  source: 'common practice, no source; the figure is the waiver’s',
  *check(all) {
    for (const judged of all) {
      const { outcome } = judged;
      if (outcome.is !== 'outgrown' && outcome.is !== 'incomparable') continue;
      const { quantity, limit, isFloor } = outcome;
      const value = outcome.is === 'outgrown' ? outcome.value : null;
      const facts = { quantity, value, unit: limit.unit, limit: limit.value, isFloor };
      yield {
        judged,
        measure: { quantity, unit: limit.unit, value, limit: limit.value, holds: isFloor ? 'at least' : 'at most' },
        facts: {
          ...waiverFacts(judged),
          ...facts,
          incomparable: outcome.is === 'outgrown' ? null : incomparableText(outcome.because),
        },
      };
    }
  },
  message: (f) => {
    const bound = `${f.isFloor ? 'down' : 'up'} to ${f.limit} ${f.unit}`;
    const covers = `The waiver of ${f.waived} by ${f.author} covers the figure (${f.quantity}) ${bound}`;
    return f.value === null
      ? `${covers}, but ${f.incomparable}; it does not count.`
      : `${covers}; now it is ${shown(f.value, f.unit)}, and the finding counts again.`;
  },
  advice: (f) =>
    f.value === null
      ? 'Write `accepted` in the unit of the finding’s figure, or leave it out to accept any figure.'
      : `Bring the figure back, or accept the new one if the reason still holds (${f.reason}).`,
});

/** A share never reads as the limit that it exceeds. */
function shown(value: number, unit: string): string {
  return unit === '%' ? percent(value / 100) : `${value} ${unit}`;
}

function incomparableText(because: IncomparableBecause): string {
  if (because.is === 'no figure') return 'the finding has no figure';
  if (because.is === 'no share') return 'the finding’s figure is no share of anything';
  return `the finding’s figure is in ${because.unit}`;
}
