import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import { type IncomparableBecause, waiverFacts } from './judged-waiver.js';
import { waiverRule } from './rule.js';

export const waiverOutgrown = waiverRule({
  id: 'waiver-outgrown',
  severity: 'warning',
  basis: 'common practice',
  *check(all, words = EN) {
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
          ...waiverFacts(judged, words),
          ...facts,
          incomparable: outcome.is === 'outgrown' ? null : incomparableText(outcome.because, words),
        },
      };
    }
  },
});

function incomparableText(because: IncomparableBecause, { facts: { waivers } }: Words): string {
  if (because.is === 'no figure') return waivers.noFigure;
  if (because.is === 'no share') return waivers.noShare;
  return waivers.otherUnit(because.unit);
}
