import { describe, expect, it } from 'vitest';
import { fanInExceeded } from '../../src/rules/fan-in-exceeded.js';
import { consumer, consumers, coupler, type PlantSpec, supply } from '../support/plants.js';
import { BOUNDS_MISSING, NO_CAPACITY, oldForm, only, repeater, said } from '../support/rules.js';

/** Classes: each current up to the next 2.5 mA, from 20 mA on the next 5 mA. The default weight is 4. */
describe('fan-in-exceeded', () => {
  it.each([
    ['classes just below the nominal current: 63 × 2.5 = 157.5 < 160', only([supply(160), ...consumers(63, 2.5)])],
    ['64 devices: 64 × 4 = 256 < 257', only([supply(320), ...consumers(64, 2.5)])],
    ['no load', only([supply(160)])],
  ])('passes %s', (_, plant) => {
    expect(said(fanInExceeded, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds classes of exactly the nominal current, as the sum has to stay below', () => {
    expect(said(fanInExceeded, only([supply(160), ...consumers(64, 2.5)]))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'note',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: {
            segment: '1.1',
            classSumMa: 160,
            nominalMa: 160,
            weight: 256,
            currentExceeded: true,
            weightExceeded: false,
          },
          message: 'On line 1.1 the current classes add up to 160 mA, not below the nominal 160 mA.',
          remedy: expect.stringContaining('larger supply'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('finds a plain sum that fits, where its classes do not', () => {
    // 64 × 2.4 = 153.6 mA, and each is of class 2.5.
    expect(said(fanInExceeded, only([supply(160), ...consumers(64, 2.4)])).found).toMatchObject([
      { facts: { classSumMa: 160 } },
    ]);
  });

  it('finds 65 devices: 65 × 4 = 260 ≥ 257', () => {
    expect(said(fanInExceeded, only([supply(320), ...consumers(65, 2.5)])).found).toMatchObject([
      {
        facts: { weight: 260, currentExceeded: false, weightExceeded: true },
        message: 'On line 1.1 the weights add up to 260, not below 257.',
      },
    ]);
  });

  it('gives both reasons in one finding', () => {
    const { found } = said(fanInExceeded, only([supply(160), ...consumers(65, 2.5)]));
    expect(found).toMatchObject([
      { message: expect.stringMatching(/162\.5 mA, not below the nominal 160 mA, and the weights add up to 260/) },
    ]);
  });

  it('finds the weight alone where the capacity is not known', () => {
    expect(said(fanInExceeded, only([supply(), ...consumers(65, 2.5)])).found).toMatchObject([
      { facts: { nominalMa: null, currentExceeded: false, weightExceeded: true } },
    ]);
  });

  it('counts the couplers that reach the segment from below', () => {
    const plant: PlantSpec = {
      lines: [
        { line: '1.0', segments: [[supply(320), ...consumers(64, 2.5)]] },
        { line: '1.1', segments: [[supply(160), coupler(5)]] },
      ],
    };
    expect(said(fanInExceeded, plant).found).toMatchObject([{ segments: ['1.0'], facts: { weight: 260 } }]);
  });

  it('rests on the rule of thumb where a current is assumed', () => {
    const { found } = said(fanInExceeded, only([supply(25), consumer(1, 15), { address: 2 }]));
    expect(found).toMatchObject([{ restsOn: 'assumed', facts: { classSumMa: 25 } }]);
  });

  it('skips any number of devices where the bounds are not known', () => {
    expect(said(fanInExceeded, oldForm([supply(160), ...consumers(100, 2.5), repeater(200)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${BOUNDS_MISSING}` },
    });
  });

  it.each(NO_CAPACITY)('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(fanInExceeded, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
