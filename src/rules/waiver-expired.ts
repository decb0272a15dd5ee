import { EN } from '../words/en/words.js';
import { waiverFacts } from './judged-waiver.js';
import { waiverRule } from './rule.js';

export const waiverExpired = waiverRule({
  id: 'waiver-expired',
  severity: 'warning',
  basis: 'common practice',
  *check(all, words = EN) {
    const { quantities } = words.facts;
    for (const judged of all) {
      const { outcome } = judged;
      if (outcome.is !== 'expired') continue;
      yield {
        judged,
        measure: { quantity: quantities.daysPastExpiry, unit: 'days', value: outcome.days, limit: 0, holds: 'at most' },
        facts: { ...waiverFacts(judged, words), days: outcome.days },
      };
    }
  },
});
