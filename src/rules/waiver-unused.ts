import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import { type UnusedBecause, waiverFacts } from './judged-waiver.js';
import { waiverRule } from './rule.js';

export const waiverUnused = waiverRule({
  id: 'waiver-unused',
  severity: 'note',
  basis: 'common practice',
  *check(all, words = EN) {
    const { quantities } = words.facts;
    for (const judged of all) {
      const { outcome } = judged;
      if (outcome.is !== 'unused') continue;
      yield {
        judged,
        measure: { quantity: quantities.findingsItIsFor, unit: 'findings', value: 0, limit: 1, holds: 'at least' },
        facts: {
          ...waiverFacts(judged, words),
          because: becauseText(outcome.because, words),
          foundRule: outcome.because.is === 'other rule' ? outcome.because.rule : null,
        },
      };
    }
  },
});

function becauseText(because: UnusedBecause, { facts: { waivers } }: Words): string {
  if (because.is === 'rule off') return waivers.ruleOff;
  if (because.is === 'other rule') return waivers.otherRule(because.rule);
  return waivers.nothingFound;
}
