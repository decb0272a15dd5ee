import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  batteryCurrentA,
  hoursAt,
  hoursBefore,
  neededCapacity,
  temperatureFactor,
} from '../../src/electrical/battery.js';
import { type HoldUpFigures, holdUpOf } from '../../src/electrical/hold-up.js';
import type { Battery, HoldUp } from '../../src/site/site.js';

/** Lossless from 30 V to 30 V, so that battery amperes are bus amperes, and warm enough for no correction. */
const PLAIN: Battery = {
  capacityAh: 10,
  voltageV: 30,
  efficiency: 1,
  ownA: 0,
  temperatureC: 25,
  peukert: 1.2,
  ratedHours: 20,
};

const UNSAID = { efficiency: null, ownA: null, temperatureC: null, peukert: null, ratedHours: null };

function wanted(hours: number, battery: Partial<Battery> | null, peak: HoldUp['peak'] = null): HoldUp {
  return { hours, battery: battery && { ...PLAIN, ...battery }, peak };
}

/** Figures for a load in bus amperes at 30 V. */
function held(holdUp: HoldUp, busA: number): HoldUpFigures {
  return holdUpOf(holdUp, Math.round(busA * 1_000_000), 30);
}

describe('the current from the battery', () => {
  it('has what is lost and what the supply takes itself in it', () => {
    expect(batteryCurrentA(1, 30, { voltageV: 15, efficiency: 1, ownA: 0 })).toBe(2);
    expect(batteryCurrentA(1, 30, { voltageV: 15, efficiency: 0.5, ownA: 0 })).toBe(4);
    expect(batteryCurrentA(1, 30, { voltageV: 15, efficiency: 0.5, ownA: 0.25 })).toBe(4.25);
  });

  it('is the load’s without what comes at the end', () => {
    expect(held(wanted(1, {}, { currentUa: 500_000, hours: 1 }), 0.25)).toMatchObject({ busA: 0.25, batteryA: 0.25 });
  });
});

describe('the needed capacity', () => {
  it('is a quarter more than the load takes', () => {
    expect(held(wanted(8, {}), 0.5).neededAh).toBe(5);
  });

  it('takes D = 1 while its own capacity admits it, and 1.75 beyond', () => {
    // T1 = 7 h of 2 A, T2 = 1 h of I2: C/20 = 1.25·(14 + I2)/20 falls below I2 from 17.5/18.75 = 0.9333… A on.
    const load = { hours: 7, batteryA: 2 };
    expect(neededCapacity(load, { hours: 1, batteryA: 0.933 })).toEqual({ ah: 1.25 * 14.933, highLoadFactor: 1 });
    expect(neededCapacity(load, { hours: 1, batteryA: 0.934 }).highLoadFactor).toBe(1.75);
    // Equal is not below: 1.25·(15 + 1)/20 is 1 A exactly.
    expect(neededCapacity({ hours: 7.5, batteryA: 2 }, { hours: 1, batteryA: 1 })).toEqual({
      ah: 20,
      highLoadFactor: 1,
    });
  });

  it('keeps D = 1.75 where the capacity that it makes would admit 1 again', () => {
    // With 1: 1.25·(12 + 4)/20 = 1 A below 2 A; with 1.75 for 20 h of 2 A: 1.25·(1 + 70)/20 = 4.4 A, not below.
    const load = { hours: 1, batteryA: 1 };
    const atEnd = { hours: 15, batteryA: 2 };
    expect((1.25 * (1 + 30)) / 20).toBeLessThan(2);
    expect((1.25 * (1 + 1.75 * 30)) / 20).toBeGreaterThan(2);
    expect(neededCapacity(load, atEnd)).toEqual({ ah: 1.25 * (1 + 1.75 * 30), highLoadFactor: 1.75 });
  });

  it('counts what comes at the end on top of the load, after the wanted hours', () => {
    const figures = held(wanted(4, {}, { currentUa: 750_000, hours: 1 }), 0.25);
    expect(figures.neededAh).toBeCloseTo(1.25 * (4 * 0.25 + 1.75 * 1), 12);
    expect(figures.methods.join()).toContain('D = 1.75, which is taken as C/20 with D = 1 is below I2');
  });

  it('grows in the cold', () => {
    expect(held(wanted(8, { temperatureC: 10 }), 0.5).neededAh).toBeCloseTo(5 * 1.19, 12);
  });

  it('is linear in the hours and in the load without a load at the end', () => {
    const hours = fc.integer({ min: 1, max: 1000 });
    fc.assert(
      fc.property(hours, hours, fc.integer({ min: 1, max: 2000 }), (some, more, ma) => {
        const needed = (time: number, a: number) => Number(held(wanted(time, { voltageV: 12 }), a).neededAh);
        const a = ma / 1000;
        expect(needed(some + more, a)).toBeCloseTo(needed(some, a) + needed(more, a), 6);
        expect(needed(some, 3 * a)).toBeCloseTo(3 * needed(some, a), 6);
      }),
    );
  });
});

describe('how long a battery lasts', () => {
  const discharge = { capacityAh: 20, ratedHours: 20, peukert: 1.5 };

  it('is its rated time at its rated current, less above it by the exponent', () => {
    expect(hoursAt(1, discharge)).toBe(20);
    expect(hoursAt(4, discharge)).toBe(20 / 8); // (1/4)^1.5 = 1/8
  });

  it('is credited no more than the rated capacity below the rated current', () => {
    expect(hoursAt(0.5, discharge)).toBe(40);
    expect(hoursAt(0.01, discharge)).toBeCloseTo(2000, 9);
  });

  it('is counted on what ageing and cold leave', () => {
    // 10 Ah / 1.25 = 8 Ah at 0.4 A: the rated current of what is left.
    expect(held(wanted(8, {}), 0.4).lastsHours).toBeCloseTo(20, 12);
    expect(held(wanted(8, { temperatureC: 10 }), 0.1).lastsHours).toBeCloseTo(80 / 1.19, 9);
  });

  it('leaves what the load at the end takes', () => {
    // 4 A empty it in 2.5 h, so 1 h of them takes 2/5 of it; 3/5 of 20 h are left.
    expect(hoursBefore(1, { hours: 1, batteryA: 4 }, discharge)).toBeCloseTo(12, 12);
    expect(hoursBefore(1, { hours: 2.5, batteryA: 4 }, discharge)).toBe(0);
    expect(hoursBefore(1, { hours: 3, batteryA: 4 }, discharge)).toBe(0);
  });

  it('is no number where nothing is drawn', () => {
    expect(held(wanted(8, {}), 0)).toMatchObject({ batteryA: 0, neededAh: 0, lastsHours: null, holds: true });
    expect(held(wanted(8, {}, { currentUa: 0, hours: 1 }), 0)).toMatchObject({ lastsHours: null, holds: true });
  });

  it('never grows with the load, with what comes at the end, or in the cold', () => {
    const ua = fc.integer({ min: 1, max: 3_000_000 });
    const hours = fc.double({ min: 0.1, max: 100, noNaN: true });
    fc.assert(
      fc.property(
        ua,
        ua,
        ua,
        hours,
        fc.double({ min: -20, max: 40, noNaN: true }),
        (load, peak, more, time, celsius) => {
          const lasts = (loadUa: number, peakUa: number, temperatureC: number) => {
            const holdUp = wanted(1, { temperatureC }, { currentUa: peakUa, hours: time / 100 });
            return Number(holdUpOf(holdUp, loadUa, 30).lastsHours);
          };
          const before = lasts(load, peak, celsius);
          const bound = before * (1 + 1e-12);
          expect(lasts(load + more, peak, celsius)).toBeLessThanOrEqual(bound);
          expect(lasts(load, peak + more, celsius)).toBeLessThanOrEqual(bound);
          expect(lasts(load, peak, celsius - 5)).toBeLessThanOrEqual(bound);
        },
      ),
    );
  });
});

describe('whether it holds', () => {
  const HOURS = fc.double({ min: 0.1, max: 200, noNaN: true });
  const UA = fc.integer({ min: 1000, max: 3_000_000 });
  const CELSIUS = fc.double({ min: -3.9, max: 40, noNaN: true });

  const withCapacity = (hours: number, ua: number, battery: Partial<Battery>, share: number) => {
    const neededAh = Number(holdUpOf(wanted(hours, battery), ua, 30).neededAh);
    return holdUpOf(wanted(hours, { ...battery, capacityAh: share * neededAh }), ua, 30);
  };

  it('does at exactly the needed capacity if drained no faster than rated, and not below', () => {
    fc.assert(
      fc.property(HOURS, UA, CELSIUS, (hours, ua, temperatureC) => {
        const battery = { temperatureC, ratedHours: hours / 1.01 };
        expect(withCapacity(hours, ua, battery, 1).holds).toBe(true);
        expect(withCapacity(hours, ua, battery, 0.999).holds).toBe(false);
      }),
    );
  });

  it('does not at the needed capacity if drained faster than rated, as Peukert’s law then gives less', () => {
    fc.assert(
      fc.property(HOURS, UA, CELSIUS, (hours, ua, temperatureC) => {
        const figures = withCapacity(hours, ua, { temperatureC, ratedHours: hours * 1.1 }, 1);
        expect(figures.lastsHours).toBeLessThan(hours);
        expect(figures.holds).toBe(false);
      }),
    );
  });

  it('needs the capacity for the load at the end as well', () => {
    const peak = { currentUa: 500_000, hours: 0.5 };
    expect(held(wanted(24, { capacityAh: 8.33 }, peak), 0.25)).toMatchObject({ holds: true });
    expect(held(wanted(24, { capacityAh: 8.32 }, peak), 0.25)).toMatchObject({ holds: false });
    expect(held(wanted(24, { capacityAh: 7.6 }), 0.25)).toMatchObject({ holds: true });
  });

  it('is not known below the coldest correction, unless it does not even with the least one', () => {
    expect(held(wanted(20, { temperatureC: -3.9, capacityAh: 100 }), 1).holds).toBe(true);
    expect(held(wanted(20, { temperatureC: -4, capacityAh: 100 }), 1).holds).toBeNull();
    expect(held(wanted(20, { temperatureC: -4, capacityAh: 30 }), 1).holds).toBe(false);
    expect(held(wanted(20, { temperatureC: -4 }), 1).assumed).toEqual([
      'correction below −3.9 °C continued in a straight line (derived here): at least so much, likely more',
    ]);
  });
});

describe('the correction for temperature', () => {
  it('lies on a line between two points, and goes on as between the coldest two', () => {
    expect(temperatureFactor((10 + 15.6) / 2)).toBeCloseTo(1.15, 12);
    expect(temperatureFactor(-6.7)).toBeCloseTo(1.61, 12); // 2.8 K below −3.9 as much more as 2.8 K above it is less
  });

  it('credits no warmth', () => {
    expect([25, 26.7, 60].map(temperatureFactor)).toEqual([1, 1, 1]);
    expect(temperatureFactor(24.9)).toBeGreaterThan(1);
  });
});

describe('what is assumed', () => {
  it('is nothing where the sheet says everything', () => {
    expect(held(wanted(8, {}), 0.5).assumed).toEqual([]);
  });

  it('is all listed where it says nothing, with what was used', () => {
    const figures = held(wanted(8, { ...UNSAID, voltageV: 12 }), 0.5);
    expect(figures.assumed).toEqual([
      'efficiency from the battery to the bus 0.85 (common practice, no source)',
      'own consumption of the supply 0 A: not known, and whatever it is shortens the time',
      'battery at 25 °C, so no correction: a colder one gives less',
      'Peukert’s exponent 1.2 (handbooks give 1.1–1.3 for lead-acid; from memory, not confirmed)',
      'capacity rated over 20 h (common practice, no source)',
    ]);
    expect(figures.factors).toEqual({ ageing: 1.25, temperature: 1, efficiency: 0.85, peukert: 1.2, ratedHours: 20 });
  });

  it.each(['efficiency', 'ownA', 'temperatureC', 'peukert', 'ratedHours'])('names %s alone', (key) => {
    expect(held(wanted(8, { [key]: null }), 0.5).assumed).toHaveLength(1);
  });
});

describe('a wanted time without a whole battery', () => {
  it('is told what it needs, at 12 V where there is none', () => {
    // I = 0.5·30/(0.85·12) A, C = 1.25·8·I (BS 5839-1 Annex).
    const batteryA = (0.5 * 30) / (0.85 * 12);
    const figures = held(wanted(8, null), 0.5);
    expect(figures).toMatchObject({ batteryV: 12, capacityAh: null, lastsHours: null, holds: null });
    expect(figures.batteryA).toBeCloseTo(batteryA, 12);
    expect(figures.neededAh).toBeCloseTo(1.25 * 8 * batteryA, 12);
    expect(figures.assumed[0]).toBe('a battery of 12 V, as none is given (common practice, no source)');
    expect(figures.methods.join()).not.toContain('Peukert');
    expect(figures.caution).toContain('backed up as well');
  });

  it('is told what it needs at the voltage of one whose capacity is not given', () => {
    const figures = held(wanted(8, { capacityAh: null, peukert: null, ratedHours: null }), 0.5);
    expect(figures).toMatchObject({ batteryV: 30, neededAh: 5, capacityAh: null, lastsHours: null, holds: null });
    expect(figures.assumed).toEqual([]); // nothing that only counts for the hours
  });
});
