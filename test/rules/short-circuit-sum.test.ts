import { describe, expect, it } from 'vitest';
import { shortCircuitSum } from '../../src/rules/short-circuit-sum.js';
import { consumer, supply } from '../support/plants.js';
import { BOUNDS_MISSING, oldForm, only, onMedium, repeater, said, UNPOWERED } from '../support/rules.js';

const fedBy = (...ratings: (number | undefined)[]) => only([...ratings.map((ma) => supply(ma)), consumer(1, 10)]);

/** By rating, 1.0 / 1.0 / 1.5 / 2.25 / 3.0 A for 160 / 320 / 640 / 960 / 1280 mA; together at most 3 A. */
describe('short-circuit-sum', () => {
  it.each([
    ['640 + 640: 1.5 + 1.5 A, exactly the sum', fedBy(640, 640)],
    ['320 + 640: 1.0 + 1.5 A', fedBy(320, 640)],
    ['1280 alone: 3 A', fedBy(1280)],
    ['1280 + 80: decentral ones do not count', fedBy(1280, 80)],
    ['an unrated one alone', fedBy(undefined)],
    ['none', fedBy()],
  ])('passes %s', (_, plant) => {
    expect(said(shortCircuitSum, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it.each([
    ['640 + 640.001, which takes the row of 960: 1.5 + 2.25 A', fedBy(640, 640.001), 3750, 750],
    ['960 + 160: 2.25 + 1.0 A', fedBy(960, 160), 3250, 250],
    ['1280 + 80.001, no longer decentral: 3.0 + 1.0 A', fedBy(1280, 80.001), 4000, 1000],
  ])('finds %s', (_, plant, sumMa, excessMa) => {
    expect(said(shortCircuitSum, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', sumMa, excessMa },
          message: expect.stringMatching(new RegExp(`up to ${sumMa} mA .*3000 mA are allowed`)),
          remedy: expect.stringContaining('split'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('skips an unrated one beside others while the sum is still open', () => {
    expect(said(shortCircuitSum, fedBy(640, undefined))).toEqual({
      found: [],
      coverage: { '1.1': 'skipped: the rating of a supply is not declared' },
    });
  });

  it('finds an unrated one beside others that are beyond the sum already', () => {
    expect(said(shortCircuitSum, fedBy(960, 160, undefined)).found).toMatchObject([
      { facts: { ratingsMa: [960, 160, null] }, message: expect.stringContaining('960 mA + 160 mA + unrated') },
    ]);
  });

  it('skips a line whose bounds are not known', () => {
    const plant = oldForm([supply(960), supply(160), consumer(1, 10), repeater(64)]);
    expect(said(shortCircuitSum, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${BOUNDS_MISSING}` } });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(shortCircuitSum, onMedium(medium, [supply(960), supply(160)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
