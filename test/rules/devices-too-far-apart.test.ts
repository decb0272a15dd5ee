import { describe, expect, it } from 'vitest';
import { devicesTooFarApart } from '../../src/rules/devices-too-far-apart.js';
import type { SegmentSite } from '../../src/site/site.js';
import { check, consumer, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { lineLayout, NO_CABLE, notOnSite, onSite, starLayout } from '../support/site-plants.js';

const DEVICES = [supply(640), consumer(1, 10), consumer(2, 10)];

const cabled = (entry: Partial<SegmentSite>, deviceToDeviceM = 700) =>
  onSite(DEVICES, entry, { policy: { deviceToDeviceM } });

/** At most 700 m between two devices (volume 3/2/2). */
describe('devices-too-far-apart', () => {
  it.each([
    ['exactly 700 m around the supply', cabled({ layout: starLayout([350, 350], [0, 1, 2]) })],
    ['700 m, whatever cable goes on beyond', cabled({ layout: lineLayout([100, 700, 100], [0, 1, 2]) })],
    ['all cable within 700 m', cabled({ totalLengthM: 700 })],
    ['350 m at most from the only supply', cabled({ farthestM: 350 })],
    ['exactly the policy’s own limit', cabled({ totalLengthM: 300 }, 300)],
    ['one device alone', onSite([supply(640), consumer(1, 10)], { totalLengthM: 900 })],
    ['no device at all', onSite([supply(640)], {})],
  ])('passes %s', (_, plant) => {
    expect(said(devicesTooFarApart, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 mm more, and says by how much', () => {
    const plant = cabled({ layout: starLayout([350, 350.001], [0, 1, 2]) });
    expect(said(devicesTooFarApart, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', lengthM: 700.001, isExact: true, limitM: 700, excessM: 0.001 },
          message: 'Two devices of line 1.1 have 700.001 m of cable between them; 700 m are allowed: 0.001 m too much.',
          remedy: expect.stringContaining('0.001 m or more shorter'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(devicesTooFarApart, plant).findings[0]?.measure).toEqual({
      quantity: 'cable between two devices',
      unit: 'm',
      value: 700.001,
      limit: 700,
      holds: 'at most',
      setBy: 'deviceToDeviceM',
    });
  });

  it('finds 1 mm above the policy’s own limit', () => {
    const plant = cabled({ layout: lineLayout([300.001], [0, 0, 1]) }, 300);
    expect(said(devicesTooFarApart, plant).found).toMatchObject([{ facts: { lengthM: 300.001, limitM: 300 } }]);
  });

  it('finds what the placed devices prove, and says that it may be more', () => {
    const devices = [...DEVICES, consumer(3, 10)];
    const plant = onSite(devices, { layout: lineLayout([800, 100], [0, 0, 1, null]) });
    expect(said(devicesTooFarApart, plant).found).toMatchObject([
      { facts: { lengthM: 800, isExact: false }, message: expect.stringContaining('at least 800 m of cable') },
    ]);
  });

  it.each([
    [
      'a device that is not placed and may be too far',
      cabled({ layout: lineLayout([701], [0, 0, null]) }),
      'where 1 of 2 devices sit (at most 701 m so far)',
    ],
    [
      'devices on runs that are not joined',
      cabled({
        layout: {
          ...lineLayout([100, 100, 100], [0, 0, 3]),
          runs: lineLayout([100, 100, 100]).runs.filter((_, at) => at !== 1),
        },
      }),
      'point p2 is not joined to a supply by any run',
    ],
    [
      'more cable than 700 m, with nothing placed',
      cabled({ totalLengthM: 701 }),
      expect.stringMatching(/^the runs of its cable.* \(at most 701 m so far\)$/),
    ],
    ['nothing told', cabled({}), expect.stringMatching(/; the length of all its cable$/)],
  ])('skips %s', (_, plant, missing) => {
    const { findings, coverage } = check(devicesTooFarApart, plant);
    expect(findings).toEqual([]);
    expect(coverage).toMatchObject([{ status: 'skipped', missing }]);
  });

  it.each(notOnSite(DEVICES, { totalLengthM: 300 }, NO_CABLE))('skips %s', (_, plant, missing) => {
    expect(said(devicesTooFarApart, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
