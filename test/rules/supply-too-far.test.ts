import { describe, expect, it } from 'vitest';
import { supplyTooFar } from '../../src/rules/supply-too-far.js';
import type { SegmentSite } from '../../src/site/site.js';
import { check, choke, consumer, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { lineLayout, NO_CABLE, notOnSite, onSite, starLayout } from '../support/site-plants.js';

const DEVICES = [supply(640), consumer(1, 10), consumer(2, 10)];

const cabled = (entry: Partial<SegmentSite>, supplyToDeviceM = 350) =>
  onSite(DEVICES, entry, { policy: { supplyToDeviceM } });

/** At most 350 m from a supply to a device (volume 9/2 §2.11). */
describe('supply-too-far', () => {
  it.each([
    ['exactly 350 m along the runs', cabled({ layout: lineLayout([100, 250], [0, 1, 2]) })],
    ['350 m on either side of the supply', cabled({ layout: starLayout([350, 350], [0, 1, 2]) })],
    ['exactly 350 m told', cabled({ farthestM: 350 })],
    ['all cable within 350 m, whatever sits where', cabled({ totalLengthM: 350 })],
    ['exactly the policy’s own limit', cabled({ farthestM: 200 }, 200)],
    [
      'a device that is not placed, where no place is too far',
      cabled({ layout: lineLayout([100, 250], [0, 1, null]) }),
    ],
    ['no device at all', onSite([supply(640)], { totalLengthM: 900 })],
    [
      'a device 100 m from the second of two supplies, 900 m from the first',
      onSite([supply(320), supply(320), consumer(1, 10)], { layout: lineLayout([800, 100], [0, 1, 2]) }),
    ],
  ])('passes %s', (_, plant) => {
    expect(said(supplyTooFar, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 mm more, and says by how much', () => {
    const plant = cabled({ layout: lineLayout([100, 250.001], [0, 1, 2]) });
    expect(said(supplyTooFar, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', lengthM: 350.001, isExact: true, limitM: 350, excessM: 0.001 },
          message: expect.stringContaining('has 350.001 m of cable to the nearest one; 350 m are allowed: 0.001 m too'),
          remedy: expect.stringContaining('0.001 m or more nearer'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(supplyTooFar, plant).findings[0]?.measure).toEqual({
      quantity: 'cable from the nearest supply',
      unit: 'm',
      value: 350.001,
      limit: 350,
      holds: 'at most',
      setBy: 'supplyToDeviceM',
    });
  });

  it.each([
    ['1 mm more told', cabled({ farthestM: 350.001 }), { lengthM: 350.001 }],
    ['1 mm above the policy’s own limit', cabled({ farthestM: 200.001 }, 200), { lengthM: 200.001, limitM: 200 }],
  ])('finds %s', (_, plant, facts) => {
    expect(said(supplyTooFar, plant).found).toMatchObject([{ facts }]);
  });

  it('finds what the placed devices prove, and says that it may be more', () => {
    const plant = cabled({ layout: lineLayout([400, 100], [0, 1, null]) });
    expect(said(supplyTooFar, plant).found).toMatchObject([
      { facts: { lengthM: 400, isExact: false }, message: expect.stringContaining('at least 400 m of cable') },
    ]);
  });

  it.each([
    [
      'a device that is not placed and may be too far',
      cabled({ layout: lineLayout([100, 251], [0, 1, null]) }),
      'where 1 of 2 devices sit (between 100 m and 351 m so far)',
    ],
    [
      'a device that is not placed, beside one at exactly the limit',
      cabled({ layout: lineLayout([350, 50], [0, 1, null]) }),
      'where 1 of 2 devices sit (between 350 m and 400 m so far)',
    ],
    [
      'a supply that is not placed',
      cabled({ layout: lineLayout([100, 300], [null, 1, 2]) }),
      'where 1 of 1 supplies sit (at most 400 m so far)',
    ],
    [
      'more cable than 350 m, with nothing placed',
      cabled({ totalLengthM: 351 }),
      expect.stringMatching(/^the runs of its cable.*; the cable from the nearest supply.* \(at most 351 m so far\)$/),
    ],
    ['nothing told', cabled({}), expect.stringMatching(/; the length of all its cable$/)],
    ['no supply', onSite([consumer(1, 10)], { totalLengthM: 900 }), 'there is no supply'],
    [
      'a choke fed from elsewhere',
      onSite([choke(), consumer(1, 10)], { totalLengthM: 900 }),
      'the supply that feeds the segment is not known',
    ],
  ])('skips %s', (_, plant, missing) => {
    const { findings, coverage } = check(supplyTooFar, plant);
    expect(findings).toEqual([]);
    expect(coverage).toMatchObject([{ status: 'skipped', missing }]);
  });

  it.each(notOnSite(DEVICES, { farthestM: 900 }, NO_CABLE))('skips %s', (_, plant, missing) => {
    expect(said(supplyTooFar, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
