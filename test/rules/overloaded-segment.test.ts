import { describe, expect, it } from 'vitest';
import { overloadedSegment } from '../../src/rules/overloaded-segment.js';
import { consumer, type DeviceSpec, supply } from '../support/plants.js';
import { NO_CAPACITY, oldForm, only, repeater, said } from '../support/rules.js';

const charged = (ma: number, ...supplies: DeviceSpec[]) => only([...supplies, consumer(1, ma)]);

describe('overloaded-segment', () => {
  it.each([
    ['a load of exactly the rating', charged(320, supply(320))],
    ['a load of exactly the sum of two ratings', charged(960, supply(320), supply(640))],
    ['no load', only([supply(320)])],
  ])('passes %s', (_, plant) => {
    expect(said(overloadedSegment, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 µA above the rating, and says by how much and what to fit', () => {
    expect(said(overloadedSegment, charged(320.001, supply(320)))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: {
            segment: '1.1',
            loadMa: 320.001,
            ratedMa: 320,
            excessMa: 0.001,
            share: expect.closeTo(1.000003125, 9), // 320.001 / 320
            items: 1,
            assumedItems: 0,
            suggestedRatingMa: 640, // 80 % of 640 is 512
            boundariesKnown: true,
          },
          message: 'Line 1.1 is charged with 320.001 mA; its supply is rated 320 mA: 0.001 mA too much (100.1 %).',
          // 80 % of 320 are 256, so 64.001 mA lie between load and target
          remedy: expect.stringMatching(
            /a supply of 640 mA.* 0\.001 mA of load to come down to the rating, 64\.001 mA to the target\.$/,
          ),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('finds 1 µA above the sum of two ratings', () => {
    const [finding] = said(overloadedSegment, charged(960.001, supply(320), supply(640))).found;
    expect(finding?.facts).toMatchObject({ ratedMa: 960, excessMa: 0.001 });
  });

  it('advises to split where no rating in stock carries the load', () => {
    // 80 % of the largest rating in stock, 1280 mA, is 1024 mA.
    const [finding] = said(overloadedSegment, charged(1024.001, supply(640))).found;
    expect(finding).toMatchObject({ facts: { suggestedRatingMa: null }, remedy: expect.stringContaining('split') });
  });

  it('rests on the rule of thumb where a current is assumed, and says how much of the load', () => {
    const [finding] = said(overloadedSegment, only([supply(160), consumer(1, 155), { address: 2 }])).found;
    expect(finding).toMatchObject({
      restsOn: 'assumed',
      facts: { loadMa: 165, assumedMa: 10, assumedItems: 1, excessMa: 5 },
      message: expect.stringContaining('10 mA are assumed, for 1 item'),
    });
  });

  describe('where the bounds are not known', () => {
    const bridged = (ma: number) => oldForm([supply(160), supply(320), consumer(1, ma), repeater(64, 10)]);

    it('skips a load of exactly all ratings together', () => {
      expect(said(overloadedSegment, bridged(470)).coverage['1.1']).toMatch(/^skipped/);
    });

    it('finds 1 µA above all ratings together, since no split can carry that', () => {
      const [finding] = said(overloadedSegment, bridged(470.001)).found;
      expect(finding).toMatchObject({
        facts: { loadMa: 480.001, ratedMa: 480, excessMa: 0.001, boundariesKnown: false },
        message: expect.stringContaining('even all together'),
        remedy: expect.stringContaining('repeaters'),
      });
    });
  });

  it.each(NO_CAPACITY)('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(overloadedSegment, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });

  it('passes a segment that the rated supplies carry although another is unrated', () => {
    // 256 mA is 80 % of the one known rating; the unrated supply can only help.
    expect(said(overloadedSegment, charged(256, supply(320), supply()))).toMatchObject({ found: [] });
  });
});
