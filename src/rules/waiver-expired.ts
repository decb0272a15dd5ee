import { waiverFacts } from './judged-waiver.js';
import { waiverRule } from './rule.js';
import { count } from './words.js';

export const waiverExpired = waiverRule({
  id: 'waiver-expired',
  title: 'A waiver is past its last day',
  severity: 'warning',
  why: 'A risk was accepted until a day; after it somebody has to look again, or it is forgotten for good.',
  remedy: 'Mend what is found, or accept it anew with a later day.',
  limit: 'a waiver counts to the end of its last day (UTC)',
  basis: 'common practice',
  source: 'common practice, no source; the day is the waiver’s',
  *check(all) {
    for (const judged of all) {
      const { outcome } = judged;
      if (outcome.is !== 'expired') continue;
      yield {
        judged,
        measure: { quantity: 'days past expiry', unit: 'days', value: outcome.days, limit: 0, holds: 'at most' },
        facts: { ...waiverFacts(judged), days: outcome.days },
      };
    }
  },
  message: (f) =>
    `The waiver of ${f.waived} by ${f.author} ended on ${f.expires}, ${count(f.days, 'day')} before ${f.asOf}; the finding counts again.`,
  advice: (f) => `Mend what is found. If the reason still holds (${f.reason}), set a later day in \`expires\`.`,
});
