import { describe, expect, it } from 'vitest';
import { supplyRatingUnknown } from '../../src/rules/supply-rating-unknown.js';
import { combined, consumer, supply } from '../support/plants.js';
import { only, onMedium, said, UNPOWERED } from '../support/rules.js';

describe('supply-rating-unknown', () => {
  it.each([
    ['25', 'the least rating'],
    ['-640', 'a negative sign, which differs by maker'],
    ['-25', 'the least rating with a negative sign'],
  ])('passes %s mA: %s', (ma) => {
    expect(said(supplyRatingUnknown, only([supply(ma), consumer(1, 10)]))).toEqual({
      found: [],
      coverage: { '1.1': 'passed' },
    });
  });

  it.each([
    ['24.999', '"24.999", which is no rating'],
    ['-24.999', '"-24.999", which is no rating'],
    ['0', '"0", which is no rating'],
    ['640 mA', '"640 mA", which is no rating'],
    [undefined, 'no rating'],
  ])('finds %s', (ma, words) => {
    expect(said(supplyRatingUnknown, only([{ ...supply(ma), product: 'X' }, consumer(1, 12)]))).toMatchObject({
      found: [
        {
          about: 'device Supply',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: {
            segment: '1.1',
            supply: 'Supply',
            product: 'Product X',
            declared: ma ?? null,
            loadMa: 12,
            verdict: 'undecidable',
          },
          message: expect.stringContaining(`declares ${words}; the segment draws 12 mA.`),
          remedy: expect.stringContaining('12 mA'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('finds each supply by itself, combined ones too', () => {
    const { found } = said(supplyRatingUnknown, only([supply(), combined(), consumer(1, 10)]));
    expect(found.map(({ about }) => about)).toEqual(['device Supply', 'device 1.1.0 Combined']);
  });

  it('says so where the other supplies carry the load', () => {
    const [finding] = said(supplyRatingUnknown, only([supply(), supply(320), consumer(1, 256)])).found;
    expect(finding).toMatchObject({
      facts: { verdict: 'sufficient' },
      message: expect.stringContaining('which the other supplies carry'),
    });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(supplyRatingUnknown, onMedium(medium, [supply(), consumer(1, 10)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
