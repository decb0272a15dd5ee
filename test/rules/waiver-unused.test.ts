import { describe, expect, it } from 'vitest';
import { waiverUnused } from '../../src/rules/waiver-unused.js';
import { judged, OUTCOMES, saidOfWaivers } from '../support/waivers.js';

describe('waiver-unused', () => {
  it('passes waivers that ended in any other way, also those of a rule that failed', () => {
    const others = OUTCOMES.filter(({ is }) => is !== 'unused');
    const all = others.map((outcome) => judged(outcome));
    expect(saidOfWaivers(waiverUnused, all)).toEqual([]);
  });

  it.each([
    [{ is: 'nothing found' }, 'no finding has its fingerprint', 'Delete the entry'],
    [{ is: 'rule off' }, 'the policy has the rule off', 'Delete the entry'],
    [
      { is: 'other rule', rule: 'overloaded-segment' },
      'the finding with its fingerprint is of the rule overloaded-segment',
      'If overloaded-segment is what is meant',
    ],
  ] as const)('finds one for which there is nothing: %j', (because, text, remedy) => {
    expect(saidOfWaivers(waiverUnused, [judged({ is: 'unused', because })])).toEqual([
      {
        outcome: 'unused',
        measure: { quantity: 'findings that it is for', unit: 'findings', value: 0, limit: 1, holds: 'at least' },
        message: `The waiver of low-headroom for 1.1 by A. Planner is for nothing: ${text}.`,
        remedy: expect.stringMatching(new RegExp(`^${remedy}`)),
      },
    ]);
  });

  it('names the rule alone where the waiver has no subject', () => {
    const { waiver, ...rest } = judged({ is: 'unused', because: { is: 'nothing found' } });
    const { subject, ...unnamed } = waiver;
    const [found] = saidOfWaivers(waiverUnused, [{ ...rest, waiver: unnamed }]);
    expect(found?.message).toMatch(/^The waiver of low-headroom by A\. Planner /);
  });
});
