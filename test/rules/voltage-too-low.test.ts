import { describe, expect, it } from 'vitest';
import { voltageTooLow } from '../../src/rules/voltage-too-low.js';
import type { SegmentSite } from '../../src/site/site.js';
import { check, choke, consumer, type PlantSpec, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { lineLayout, NO_CABLE, notOnSite, onSite } from '../support/site-plants.js';

/** A supply at one end of a run of 73.2 Ω/km, and all of the load at the other. */
const atEnd = (ma: number, lengthM: number, policy: PlantSpec['policy'] = {}) =>
  onSite([supply(640), consumer(1, ma)], { layout: lineLayout([lengthM], [0, 1]) }, { policy });

const bounded = (ma: number, entry: Partial<SegmentSite>) =>
  onSite([supply(640), consumer(1, ma), consumer(2, 10)], entry);

/** 21 V as installed, 20 V at which devices must still work (volume 3/2/2 §1.2.2). */
describe('voltage-too-low', () => {
  // 250 m of 73.2 Ω/km are 18.3 Ω; at least 26.5 V at the supply (28 V less 1.5 V over the choke), typically 30 V.
  it.each([
    ['5.5 V of drop in the least case: exactly 21 V', atEnd(5.5 / 0.0183, 250)],
    ['the policy’s own voltage', atEnd(400, 250, { leastDeviceV: 19, hardDeviceV: 18 })],
    ['a short cable of which only the length is known', bounded(200, { farthestM: 100 })],
  ])('passes %s', (_, plant) => {
    expect(said(voltageTooLow, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds less than 21 V in the least case, as a warning', () => {
    expect(said(voltageTooLow, atEnd(301, 250))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          restsOn: 'declared',
          segments: ['1.1'],
          // 26.5 − 18.3·0.301 = 20.9917
          facts: { segment: '1.1', atVoltage: 'least', supplyV: 26.5, lowestV: 20.991, limitV: 21, isExact: true },
          message:
            'On line 1.1 the lowest voltage is 20.991 V at p1, with 26.5 V at the supply (the least case); 21 V are needed.',
          remedy: expect.stringContaining('a second pair in parallel halves it'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(voltageTooLow, atEnd(301, 250)).findings[0]?.measure).toEqual({
      quantity: 'lowest voltage at the least voltage of the supply',
      unit: 'V',
      value: 20.991,
      limit: 21,
      holds: 'at least',
      setBy: 'leastDeviceV',
    });
  });

  it.each([
    ['20 V and more in the least case', 6.5 - 0.0001, 'warning'],
    ['less than 20 V in the least case', 6.5 + 0.001, 'error'],
    ['less than 21 V even in the typical case', 9.0 + 0.001, 'error'],
  ])('is of the right severity with %s', (_, dropV, severity) => {
    expect(said(voltageTooLow, atEnd(dropV / 0.0183, 250)).found).toMatchObject([{ severity }]);
  });

  it('finds what even the best arrangement cannot mend', () => {
    const single = onSite([supply(640), consumer(1, 400)], { farthestM: 250, totalLengthM: 250 });
    expect(said(voltageTooLow, single).found).toMatchObject([
      { severity: 'error', message: expect.stringContaining('is at best 19.18 V, with 26.5 V at the supply') },
    ]);
  });

  it('finds what is planned where today’s devices are fine, as a warning', () => {
    const planned = (devices: number, point: number | null) =>
      onSite([supply(640), consumer(1, 200)], {
        layout: lineLayout([250], [0, 1]),
        planned: [{ devices, currentUa: 15_000, point }],
      });
    // 5.5 V of drop are 300.5 mA at the end.
    expect(said(voltageTooLow, planned(6, 1)).found).toEqual([]);
    expect(said(voltageTooLow, planned(7, 0)).found).toEqual([]);
    expect(said(voltageTooLow, planned(7, null)).found).toEqual([]); // perhaps
    expect(said(voltageTooLow, planned(7, 1)).found).toMatchObject([
      {
        severity: 'warning',
        facts: { withPlanned: true, lowestV: 20.918 }, // 26.5 − 18.3 · 0.305
        message: expect.stringContaining('On line 1.1, with what is planned, the lowest voltage is 20.918 V at p1'),
      },
    ]);
  });

  it('tells of a load that no voltage can supply', () => {
    // 24 W behind 18.3 Ω: more than 30²/(4·18.3) = 12.3 W.
    const plant = onSite(
      [supply(1280), consumer(1, 1000)],
      { layout: lineLayout([250], [0, 1]) },
      { policy: { deviceModel: 'constant power' } },
    );
    expect(said(voltageTooLow, plant).found).toMatchObject([
      {
        severity: 'error',
        facts: { lowestV: null },
        message: expect.stringContaining('there is no working point with 30 V at the supply (the typical case)'),
      },
    ]);
  });

  it.each<readonly [string, PlantSpec, string]>([
    ...notOnSite([supply(640), consumer(1, 400)], { farthestM: 250 }, NO_CABLE),
    [
      'bounds on both sides of the limit',
      bounded(350, { farthestM: 250 }),
      'at the least voltage of the supply the lowest voltage lies between 19.912 V and 26.454 V; to decide it: the runs of its cable, and where devices and supplies sit; the length of all its cable',
    ],
    [
      'a load that the supply cannot deliver',
      bounded(640, { farthestM: 10 }),
      'a supply that carries the load: no voltage can be promised beyond its limit',
    ],
    ['no length', bounded(100, {}), 'the length of the cable, or what feeds it: the site sheet does not say'],
    [
      'no known feed',
      onSite([choke(), consumer(1, 10)], { farthestM: 10 }),
      'the length of the cable, or what feeds it: the site sheet does not say',
    ],
  ])('skips a segment with %s', (_, plant, missing) => {
    const { findings, coverage } = check(voltageTooLow, plant);
    expect(findings).toEqual([]);
    expect(coverage).toMatchObject([{ status: 'skipped', missing }]);
  });
});
