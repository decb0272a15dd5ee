import { describe, expect, it } from 'vitest';
import { holdUpTooShort } from '../../src/rules/hold-up-too-short.js';
import type { Battery, HoldUp } from '../../src/site/site.js';
import { check, choke, consumer, type DeviceSpec, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { notOnSite, onSite, unwished } from '../support/site-plants.js';

/** Lossless from 30 V to 30 V at 25 °C, so that battery amperes are bus amperes. */
const PLAIN: Battery = {
  capacityAh: 5,
  voltageV: 30,
  efficiency: 1,
  ownA: 0,
  temperatureC: 25,
  peukert: 1.2,
  ratedHours: 20,
};

interface Wanted {
  readonly battery?: Partial<Battery>;
  readonly peak?: HoldUp['peak'];
  readonly devices?: readonly DeviceSpec[];
}

/** A segment that draws 500 mA, and the wanted hours. */
function held(hours: number, { battery = {}, peak = null, devices = [supply(640), consumer(1, 500)] }: Wanted = {}) {
  return onSite(devices, { holdUp: { hours, battery: { ...PLAIN, ...battery }, peak } });
}

/** Slow enough for Peukert's law to take nothing off, 5 Ah less a quarter are 4 Ah: 8 h of 0.5 A (BS 5839-1 Annex). */
const SLOW: Partial<Battery> = { ratedHours: 5 };

describe('hold-up-too-short', () => {
  it.each([
    ['exactly the time that the battery gives, with exactly the capacity', held(8, { battery: SLOW })],
    ['no load', held(8, { devices: [supply(640)] })],
  ])('passes %s', (_, plant) => {
    expect(said(holdUpTooShort, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds a battery that a hundredth of an hour too much is wanted of, with hours, capacity and caution', () => {
    const plant = held(8.01, { battery: SLOW });
    expect(said(holdUpTooShort, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          // 1.25·8.01 h·0.5 A = 5.00625 Ah, which must not read as the 5 Ah that it exceeds.
          facts: { segment: '1.1', loadMa: 500, lastsHours: 8, wantedHours: 8.01, neededAh: 5.01, givenAh: 5 },
          message: expect.stringMatching(
            /^The battery of line 1\.1 \(5 Ah\) gives 500 mA for 8 h; wanted are 8\.01 h, which need 5\.01 Ah\. .*BS 5839-1.*Peukert/,
          ),
          remedy: expect.stringMatching(/^Fit a battery of 5\.01 Ah or more.*To back up the bus alone rarely helps/),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(holdUpTooShort, plant).findings[0]?.measure).toEqual({
      quantity: 'hold-up time',
      unit: 'h',
      value: 8,
      limit: 8.01,
      holds: 'at least',
    });
  });

  it('finds a time that a high current shortens although the capacity is enough', () => {
    // Rated over 20 h the 4 Ah give 0.5 A for 20·(4/(0.5·20))^1.2 = 6.66 h.
    expect(check(holdUpTooShort, held(8)).findings).toMatchObject([
      { measure: { value: 6.66, limit: 8 }, facts: { neededAh: 5, givenAh: 5 } },
    ]);
  });

  it('finds a capacity that is too small although the time would be reached', () => {
    // C with D = 1 is 1.25·(2 + 0.5) = 3.125 Ah, C/20 < 1 A, so D = 1.75: 1.25·(2 + 1.75·0.5) = 3.59375 Ah.
    const plant = held(4, { battery: { capacityAh: 3.5, ratedHours: 1 }, peak: { currentUa: 500_000, hours: 0.5 } });
    const [finding] = check(holdUpTooShort, plant).findings;
    expect(finding?.measure).toEqual({
      quantity: 'capacity of the battery',
      unit: 'Ah',
      value: 3.5,
      limit: 3.6,
      holds: 'at least',
    });
    expect(finding?.message).toContain('and then the load at the end; wanted are 4 h, which need 3.6 Ah');
  });

  it('hangs on the capacity where the time falls short only once it is rounded', () => {
    // 3.498/1.25 = 2.7984 Ah give 1 A for half an hour and 0.5 A for 2·2.7984 − 1 = 4.5968 h.
    const battery = { capacityAh: 3.498, ratedHours: 1 };
    const plant = held(4.595, { battery, peak: { currentUa: 500_000, hours: 0.5 } });
    expect(check(holdUpTooShort, plant).findings).toMatchObject([
      { measure: { quantity: 'capacity of the battery', value: 3.498, limit: 3.97 }, facts: { lastsHours: 4.59 } },
    ]);
  });

  it('says what was taken where the sheet does not tell, and rests on what is assumed of the load', () => {
    const devices = [supply(640), { address: 1 }];
    const [finding] = said(holdUpTooShort, held(8, { battery: { capacityAh: 0.01, ownA: null }, devices })).found;
    expect(finding).toMatchObject({
      restsOn: 'assumed',
      message: expect.stringContaining('Taken, as nobody said: own consumption of the supply 0 A'),
    });
  });

  it('finds a battery that is too small even with the least correction for the cold', () => {
    const plant = held(8, { battery: { ...SLOW, temperatureC: -20 } });
    expect(said(holdUpTooShort, plant).coverage).toEqual({ '1.1': 'found' });
  });

  const UNWISHED = notOnSite(
    [supply(640), consumer(1, 500)],
    { holdUp: { hours: 99, battery: PLAIN, peak: null } },
    unwished('whether a hold-up time is wanted: no site sheet says so'),
  );

  it.each([
    [
      'a time that no battery is given for',
      onSite([supply(640), consumer(1, 500)], { holdUp: { hours: 8, battery: null, peak: null } }),
      // 1.25·8 h·0.5 A·30 V/(0.85·12 V) are 14.7059 Ah.
      'the capacity of a battery: 14.71 Ah at 12 V are needed',
    ] as const,
    [
      'a time whose battery is given without a capacity',
      held(8, { battery: { capacityAh: null } }),
      'the capacity of a battery: 5 Ah at 30 V are needed',
    ] as const,
    [
      'no time wanted',
      onSite([supply(640), consumer(1, 500)], {}),
      'whether a hold-up time is wanted: the site sheet does not say',
    ] as const,
    [
      'a battery that is too cold to tell',
      held(8, { battery: { capacityAh: 100, temperatureC: -20 } }),
      'how much the battery gives below −3.9 °C',
    ] as const,
    [
      'a battery that holds, where the supply may feed more than the segment',
      held(1, { devices: [choke(), consumer(1, 500)] }),
      'the supply that feeds the segment is not known',
    ] as const,
    ...UNWISHED,
  ])('skips %s', (_, plant, missing) => {
    expect(said(holdUpTooShort, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
