import { describe, expect, it } from 'vitest';
import { oversizedSupply } from '../../src/rules/oversized-supply.js';
import { consumer, supply } from '../support/plants.js';
import { NO_CAPACITY, only, said } from '../support/rules.js';

const fed = (ma: number, ...ratings: number[]) => only([...ratings.map((rating) => supply(rating)), consumer(1, ma)]);

/** Stock 160, 320, 640, 1280 mA; at 80 % they carry 128, 256, 512, 1024 mA. */
describe('oversized-supply', () => {
  it.each([
    ['the suggested size', fed(128, 160)],
    ['one size above', fed(128, 320)],
    ['just less than two sizes above', fed(128, 639.999)],
    ['two sizes above what would do 1 µA ago', fed(128.001, 640)],
    ['1280 for what 320 just fails to carry', fed(256.001, 1280)],
    ['1280 for what only 1280 carries', fed(600, 1280)],
    ['1280 for what no size carries', fed(1024.001, 1280)],
    ['two supplies', fed(128, 640, 640)],
    ['no load', only([supply(1280)])],
  ])('passes %s', (_, plant) => {
    expect(said(oversizedSupply, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it.each([
    ['640 for what 160 carries', 128, 640, 160],
    ['1280 for what 320 carries', 256, 1280, 320],
    ['1280 for 1 mA', 1, 1280, 160],
    ['a size of no stock, above the second', 128, 700, 160],
  ])('finds %s', (_, loadMa, ratedMa, suggestedRatingMa) => {
    expect(said(oversizedSupply, fed(loadMa, ratedMa))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'note',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', ratedMa, loadMa, suggestedRatingMa },
          message: expect.stringMatching(new RegExp(`rated ${ratedMa} mA .* ${suggestedRatingMa} mA would carry`)),
          remedy: expect.stringContaining(`order ${suggestedRatingMa} mA`),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('rests on the rule of thumb where a current is assumed', () => {
    expect(said(oversizedSupply, only([supply(640), { address: 1 }])).found).toMatchObject([{ restsOn: 'assumed' }]);
  });

  it('goes by the policy’s stock', () => {
    const plant = only([supply(640), consumer(1, 10)], {
      stock: [
        { ratingMa: 320, kinds: ['plain'] },
        { ratingMa: 640, kinds: ['plain'] },
      ],
    });
    expect(said(oversizedSupply, plant).found).toEqual([]);
  });

  it.each(NO_CAPACITY)('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(oversizedSupply, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
