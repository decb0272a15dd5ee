import { describe, expect, it } from 'vitest';
import { lowHeadroom } from '../../src/rules/low-headroom.js';
import { consumer, supply } from '../support/plants.js';
import { NO_CAPACITY, only, said } from '../support/rules.js';

const on320 = (ma: number, targetLoad = 0.8) => only([supply(320), consumer(1, ma)], { targetLoad });

describe('low-headroom', () => {
  it.each([
    ['exactly 80 % of the rating', on320(256)],
    ['exactly the policy’s own target', on320(160, 0.5)],
    ['exactly the rating where the target is the whole of it', on320(320, 1)],
    ['more than the rating, which is another rule’s', on320(320.001)],
    ['no load', only([supply(320)])],
    [
      '80 % of the known rating beside an unrated supply, which can only help',
      only([supply(320), supply(), consumer(1, 256)]),
    ],
  ])('passes %s', (_, plant) => {
    expect(said(lowHeadroom, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 µA more than 80 %, and says how far into the reserve', () => {
    expect(said(lowHeadroom, on320(256.001))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          restsOn: 'declared',
          segments: ['1.1'],
          // 256.001 / 320 = 0.800003125, which must not read as the 80 % that it exceeds.
          facts: {
            loadMa: 256.001,
            ratedMa: 320,
            targetMa: 256,
            excessMa: 0.001,
            share: expect.closeTo(0.800003125, 9),
          },
          message: expect.stringMatching(/256\.001 mA, 80\.1 % of 320 mA; .*256 mA, exceeded by 0\.001 mA/),
          remedy: expect.stringContaining('a supply of 640 mA'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it.each([
    ['the whole rating', on320(320), { excessMa: 64 }],
    ['1 µA above the policy’s own target', on320(160.001, 0.5), { targetMa: 160, excessMa: 0.001 }],
  ])('finds %s', (_, plant, facts) => {
    expect(said(lowHeadroom, plant).found).toMatchObject([{ facts }]);
  });

  it('rests on the rule of thumb where a current is assumed', () => {
    expect(said(lowHeadroom, only([supply(160), consumer(1, 120), { address: 2 }])).found).toMatchObject([
      {
        restsOn: 'assumed',
        facts: { loadMa: 130, targetMa: 128 },
        message: expect.stringContaining('10 mA are assumed'),
      },
    ]);
  });

  it.each(NO_CAPACITY)('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(lowHeadroom, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
