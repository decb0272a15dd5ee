import { describe, expect, it } from 'vitest';
import { waiverExpired } from '../../src/rules/waiver-expired.js';
import { judged, OUTCOMES, saidOfWaivers } from '../support/waivers.js';

describe('waiver-expired', () => {
  it('passes waivers that ended in any other way, and no waivers', () => {
    const others = OUTCOMES.filter(({ is }) => is !== 'expired');
    const all = others.map((outcome) => judged(outcome));
    expect(saidOfWaivers(waiverExpired, all)).toEqual([]);
    expect(saidOfWaivers(waiverExpired, [])).toEqual([]);
  });

  it('finds one that is past its day, and says by how much', () => {
    expect(saidOfWaivers(waiverExpired, [judged({ is: 'expired', days: 3 })])).toEqual([
      {
        outcome: 'expired',
        measure: { quantity: 'days past expiry', unit: 'days', value: 3, limit: 0, holds: 'at most' },
        message:
          'The waiver of low-headroom for 1.1 by A. Planner ended on 2027-06-30, 3 days before 2027-07-03; the finding counts again.',
        remedy:
          'Mend what is found. If the reason still holds (the canteen closes in spring), set a later day in `expires`.',
      },
    ]);
  });

  it('says one day as one day', () => {
    const [found] = saidOfWaivers(waiverExpired, [judged({ is: 'expired', days: 1 })]);
    expect(found?.message).toContain(' 1 day before ');
  });
});
