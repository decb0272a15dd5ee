import { describe, expect, it } from 'vitest';
import { auxiliaryOverload } from '../../src/rules/auxiliary-overload.js';
import { overloadedSegment } from '../../src/rules/overloaded-segment.js';
import { check, consumer, supply } from '../support/plants.js';
import { NO_CAPACITY, only, said } from '../support/rules.js';
import { onSite } from '../support/site-plants.js';

/** On 320 mA, what the bus draws and what is drawn beside it. */
const drawn = (busMa: number, auxiliaryUa: number | null) => onSite([supply(320), consumer(1, busMa)], { auxiliaryUa });

/** The unchoked output shares the rating: bus load + auxiliary load ≤ rating (common practice, no source). */
describe('auxiliary-overload', () => {
  it.each([
    ['bus and auxiliary load of exactly the rating', drawn(300, 20_000)],
    ['a bus of exactly the rating, with nothing beside it', drawn(320, 0)],
    ['a bus of exactly the rating, of whose auxiliary output nothing is said', drawn(320, null)],
    ['an auxiliary load alone, of exactly the rating', drawn(0, 320_000)],
    ['no sheet', only([supply(320), consumer(1, 320)])],
    ['no load', onSite([supply(320)], {})],
  ])('passes %s', (_, plant) => {
    expect(said(auxiliaryOverload, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 µA more than the rating, and says that the bus alone would fit', () => {
    const plant = drawn(300, 20_001);
    expect(said(auxiliaryOverload, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', loadMa: 320.001, busMa: 300, auxiliaryMa: 20.001, ratedMa: 320, excessMa: 0.001 },
          message:
            'Line 1.1 is charged with 320.001 mA, 20.001 mA of it beside the bus; its supplies are rated 320 mA: 0.001 mA too much (100.1 %). The bus alone, 300 mA, would fit.',
          remedy: expect.stringMatching(/^Feed the 20\.001 mA beside the bus.*a supply of 640 mA/),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(auxiliaryOverload, plant).findings[0]?.measure).toMatchObject({
      quantity: 'bus and auxiliary load',
      value: 320.001,
      limit: 320,
      holds: 'at most',
      whole: 320,
    });
    expect(said(overloadedSegment, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds a bus of exactly the rating with 1 µA beside it', () => {
    expect(said(auxiliaryOverload, drawn(320, 1)).found).toMatchObject([{ facts: { busMa: 320, excessMa: 0.001 } }]);
    expect(said(overloadedSegment, drawn(320, 1)).found).toEqual([]);
  });

  it('leaves a bus that is too much by itself to the rule about that', () => {
    const plant = drawn(320.001, 20_000);
    expect(said(auxiliaryOverload, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
    expect(said(overloadedSegment, plant).found).toMatchObject([
      { facts: { loadMa: 340.001, auxiliaryMa: 20, excessMa: 20.001 } },
    ]);
  });

  it('rests on the rule of thumb where a current is assumed', () => {
    const plant = onSite([supply(160), consumer(1, 140), { address: 2 }], { auxiliaryUa: 10_001 });
    expect(said(auxiliaryOverload, plant).found).toMatchObject([
      { restsOn: 'assumed', message: expect.stringContaining('10 mA are assumed, for 1 item') },
    ]);
  });

  it.each(NO_CAPACITY)('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(auxiliaryOverload, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
