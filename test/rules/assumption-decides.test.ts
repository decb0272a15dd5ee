import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assumptionDecides } from '../../src/rules/assumption-decides.js';
import { balanceOfSegment, check, choke, consumer, supply } from '../support/plants.js';
import { BOUNDS_UNKNOWN, oldForm, only, onMedium, repeater, said, UNPOWERED } from '../support/rules.js';

/** Beside a known load on 320 mA (target 256 mA) so many devices of which nobody knows more than 3 to 12 mA. */
const beside = (knownMa: number, items: number) => [
  supply(320),
  consumer(1, knownMa),
  ...Array.from({ length: items }, (_, index) => ({ address: 100 + index })),
];

describe('assumption-decides', () => {
  it.each([
    ['a verdict that no declared current leaves open', only([supply(320), consumer(1, 256)])],
    ['exactly the target at the most that is assumed', only(beside(136, 10))],
    ['what is tight at both bounds', only(beside(250, 5))],
    ['1 µA above the rating at the least that is assumed', only(beside(290.001, 10))],
    ['a segment without a supply, which no current feeds', only([{ address: 1 }])],
    ['a feed that is not known', only([choke(), { address: 1 }])],
    ['a segment on which nothing stands', only([supply(320)])],
    ['bounds of the segment that are not known, as nothing hangs on the current', BOUNDS_UNKNOWN],
    ['both bounds the same', only(beside(200, 10), { assumedLowMa: 10, assumedHighMa: 10 })],
  ])('passes %s', (_, plant) => {
    expect(said(assumptionDecides, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 µA above the target at the most that is assumed', () => {
    expect(said(assumptionDecides, only(beside(136.001, 10)))).toEqual({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          restsOn: 'assumed',
          segments: ['1.1'],
          facts: {
            segment: '1.1',
            verdict: 'sufficient',
            assumedItems: 10,
            lowMa: 3,
            highMa: 12,
            loadAtLowMa: 166.001,
            loadAtHighMa: 256.001,
            atLow: 'sufficient',
            atHigh: 'tight',
            turnsAtMa: 11.999, // (256 − 136.001) / 10, rounded down
          },
          message:
            'Line 1.1 is sufficient, but 10 items of its load are assumed: at 3 mA each it would be sufficient (166.001 mA), at 12 mA each tight (256.001 mA); it turns above an average of 11.999 mA.',
          remedy: 'Look up the 10 currents that are assumed on line 1.1.',
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it.each([
    [
      'exactly the rating at the least that is assumed',
      beside(290, 10),
      { atLow: 'tight', atHigh: 'insufficient', turnsAtMa: 3 },
    ],
    ['one item', beside(250, 1), { assumedItems: 1, turnsAtMa: 6 }],
    // (256 − 206) / 10 = 5, (320 − 206) / 10 = 11.4, which is nearer to 10 mA: the first of the two is where it turns.
    ['a verdict that turns twice', beside(206, 10), { atLow: 'sufficient', atHigh: 'insufficient', turnsAtMa: 5 }],
    // (256 − 194) / 10 = 6.2; (320 − 194) / 10 = 12.6 is nearer to 10 mA, and no device draws that much.
    ['a turn beyond the bounds, which decides nothing', beside(194, 10), { atHigh: 'tight', turnsAtMa: 6.2 }],
    // (256 − 227) / 10 = 2.9 is nearer to 5 mA than (320 − 227) / 10 = 9.3, and no device draws that little.
    ['a turn below the bounds, which decides nothing', beside(227, 10), { atLow: 'tight', turnsAtMa: 9.3 }],
  ])('finds %s', (_, devices, facts) => {
    const plant = only(devices, facts.turnsAtMa === 9.3 ? { assumedCurrentMa: 5 } : {});
    expect(said(assumptionDecides, plant).found).toMatchObject([{ facts }]);
  });

  it('speaks of one item in the singular', () => {
    expect(said(assumptionDecides, only(beside(250, 1))).found).toMatchObject([
      {
        message: expect.stringContaining('but 1 item of its load is assumed:'),
        remedy: 'Look up the current that is assumed on line 1.1.',
      },
    ]);
  });

  it('names no average where that is not known: beside an unrated supply', () => {
    const { found } = said(assumptionDecides, only([supply(320), supply(), consumer(1, 250), { address: 2 }]));
    expect(found).toMatchObject([{ facts: { atLow: 'sufficient', atHigh: 'undecidable', turnsAtMa: null } }]);
    expect(found[0]?.message).not.toContain('it turns');
  });

  it('finds what is too much for all supplies together, whatever the bounds of the segment', () => {
    const plant = oldForm([...beside(280, 3), repeater(64, 10)]);
    expect(said(assumptionDecides, plant).found).toMatchObject([
      { facts: { atLow: 'undecidable', atHigh: 'insufficient', turnsAtMa: null } },
    ]);
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(assumptionDecides, onMedium(medium, beside(250, 1)))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });

  it('names the average at which the verdict is another 1 µA further', () => {
    const ua = fc.integer({ min: 1, max: 320_000 });
    fc.assert(
      fc.property(ua, fc.integer({ min: 1, max: 30 }), (knownUa, items) => {
        const devices = beside(knownUa / 1000, items);
        const [finding] = check(assumptionDecides, only(devices)).findings;
        if (finding === undefined) return;
        const turnsAtMa = Number(finding.facts.turnsAtMa);
        expect(turnsAtMa).toBeGreaterThanOrEqual(3);
        expect(turnsAtMa).toBeLessThan(12);
        const verdictAt = (ma: number) =>
          balanceOfSegment(devices, { assumedCurrentMa: Math.round(ma * 1000) / 1000 }).verdict;
        expect(verdictAt(turnsAtMa)).toBe(finding.facts.atLow);
        expect(verdictAt(turnsAtMa + 0.001)).not.toBe(finding.facts.atLow);
      }),
      { numRuns: 300 },
    );
  });
});
