import { type UnusedBecause, waiverFacts } from './judged-waiver.js';
import { waiverRule } from './rule.js';

export const waiverUnused = waiverRule({
  id: 'waiver-unused',
  title: 'A waiver is for nothing that was found',
  severity: 'note',
  why: 'A waiver that is left behind hides the same finding when it comes back, and makes the list longer than the truth.',
  remedy: 'Delete the entry, or correct its fingerprint and rule.',
  limit: 'a waiver’s fingerprint and rule are those of a finding',
  basis: 'common practice',
  source: 'common practice, no source',
  *check(all) {
    for (const judged of all) {
      const { outcome } = judged;
      if (outcome.is !== 'unused') continue;
      yield {
        judged,
        measure: { quantity: 'findings that it is for', unit: 'findings', value: 0, limit: 1, holds: 'at least' },
        facts: {
          ...waiverFacts(judged),
          because: becauseText(outcome.because),
          foundRule: outcome.because.is === 'other rule' ? outcome.because.rule : null,
        },
      };
    }
  },
  message: (f) => `The waiver of ${f.waived} by ${f.author} is for nothing: ${f.because}.`,
  advice: (f) =>
    f.foundRule === null
      ? 'Delete the entry; if the finding is still there, it has another fingerprint, which the report gives.'
      : `If ${f.foundRule} is what is meant, write that as its rule; otherwise delete the entry.`,
});

function becauseText(because: UnusedBecause): string {
  if (because.is === 'rule off') return 'the policy has the rule off';
  if (because.is === 'other rule') return `the finding with its fingerprint is of the rule ${because.rule}`;
  return 'no finding has its fingerprint';
}
