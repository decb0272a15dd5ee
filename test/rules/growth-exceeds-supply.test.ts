import { describe, expect, it } from 'vitest';
import type { Policy } from '../../src/policy/policy.js';
import { growthExceedsSupply } from '../../src/rules/growth-exceeds-supply.js';
import { lowHeadroom } from '../../src/rules/low-headroom.js';
import { consumer, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { NO_CAPACITY, only, said } from '../support/rules.js';

const planned = (devices: number, reserveMa = 0): Partial<Policy> => ({ growth: [{ line: '*', devices, reserveMa }] });

const on320 = (ma: number, policy: Partial<Policy>, ...more: readonly DeviceSpec[]) =>
  only([supply(320), consumer(1, ma), ...more], policy);

const withPlan = (plant: PlantSpec): PlantSpec => ({ ...plant, policy: { ...plant.policy, ...planned(256, 10_000) } });

describe('growth-exceeds-supply', () => {
  it.each([
    ['what is planned up to exactly 80 % of the rating', on320(200, planned(5, 6))],
    ['exactly the policy’s own target', on320(200, { ...planned(12), targetLoad: 1 })],
    ['a load that nothing is planned beside', on320(256, {})],
    ['an entry that plans nothing', on320(256, planned(0))],
    ['what is planned for another line', on320(256, { growth: [{ line: '1.2', devices: 9, reserveMa: 0 }] })],
    ['what is planned for a segment on which nothing stands yet', only([supply(320)], planned(256))],
    ['what is planned beside an unrated supply, as no target is known', only([supply(320), supply()], planned(256))],
  ])('passes %s', (_, plant) => {
    expect(said(growthExceedsSupply, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it.each([
    ['the target', 256.001],
    ['the rating', 320.001],
  ])('finds what is planned beside a load above %s already, as its own remedy has to count it', (_, loadMa) => {
    expect(said(growthExceedsSupply, on320(loadMa, planned(1))).found).toMatchObject([{ facts: { plannedMa: 10 } }]);
    const [{ remedy } = { remedy: '' }] = said(lowHeadroom, on320(300, planned(30))).found;
    expect(remedy).toContain('a supply of 1280 mA carries this load and the 300 mA that are planned');
  });

  it('finds 1 µA more, and says what to order', () => {
    expect(said(growthExceedsSupply, on320(200, planned(5, 6.001)))).toEqual({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: {
            segment: '1.1',
            loadMa: 200,
            plannedDevices: 5,
            plannedMa: 56.001,
            targetMa: 256,
            ratedMa: 320,
            excessMa: 0.001,
            suggestedRatingMa: 640,
          },
          message:
            'Line 1.1 carries 200 mA today; with 56.001 mA planned (5 devices) it is 0.001 mA above the target of 256 mA.',
          remedy: 'Order for what is planned: a supply of 640 mA carries this load within the target.',
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it.each([
    [
      'the reserve alone',
      on320(256, planned(0, 0.001)),
      { plannedDevices: 0, excessMa: 0.001 },
      'with 0.001 mA planned it is',
    ],
    ['one device', on320(250, planned(1)), { plannedMa: 10, excessMa: 4 }, 'planned (1 device) it is'],
    [
      'devices at the policy’s rule of thumb',
      on320(250, { ...planned(1), assumedCurrentMa: 6.001 }),
      { plannedMa: 6.001, excessMa: 0.001 },
      '',
    ],
    ['the policy’s own target', on320(100, { ...planned(1), targetLoad: 0.3125 }), { targetMa: 100, excessMa: 10 }, ''],
  ])('finds %s', (_, plant, facts, message) => {
    expect(said(growthExceedsSupply, plant).found).toMatchObject([
      { facts, message: expect.stringContaining(message) },
    ]);
  });

  it('says so where no rating in stock carries what is planned', () => {
    expect(said(growthExceedsSupply, on320(200, planned(90))).found).toMatchObject([
      { facts: { suggestedRatingMa: null }, remedy: expect.stringContaining('no rating in stock') },
    ]);
  });

  it.each([
    ['assumed', { address: 2 }, {}],
    ['overridden', consumer(2, 99, { product: 'x' }), { products: [{ id: '*-x', currentMa: 10, note: 'sheet' }] }],
  ])('rests on what is %s', (restsOn, device, policy) => {
    expect(said(growthExceedsSupply, on320(200, { ...planned(5), ...policy }, device)).found).toMatchObject([
      { restsOn, facts: { loadMa: 210, excessMa: 4 } },
    ]);
  });

  it.each(NO_CAPACITY)('skips %s, and names what is missing', (_, plant, missing) => {
    expect(said(growthExceedsSupply, withPlan(plant))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
