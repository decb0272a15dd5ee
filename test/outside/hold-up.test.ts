import { describe, expect, it } from 'vitest';
import { batteryCurrentA, hoursAt, neededCapacity, temperatureFactor } from '../../src/electrical/battery.js';
import { holdUpOf } from '../../src/electrical/hold-up.js';

describe('published examples', () => {
  // Handbook, BS 5839-1 Annex, worked example: 0.25 A for 24 h, then 0.75 A for half an hour, D = 1.75.
  it('0.25 A for 24 h and 0.75 A for 0.5 h need 8.32 Ah', () => {
    const needed = neededCapacity({ hours: 24, batteryA: 0.25 }, { hours: 0.5, batteryA: 0.75 });
    expect(needed.ah).toBeCloseTo(8.32, 2);
    expect(needed.highLoadFactor).toBe(1.75);
  });

  it('the same, as loads on a bus of the battery’s voltage', () => {
    const battery = { capacityAh: 9, voltageV: 24, efficiency: 1, ownA: 0, temperatureC: 25 };
    const holdUp = {
      hours: 24,
      battery: { ...battery, peukert: 1.2, ratedHours: 20 },
      peak: { currentUa: 500_000, hours: 0.5 },
    };
    expect(holdUpOf(holdUp, 250_000, 24).neededAh).toBeCloseTo(8.32, 2);
  });

  // Handbook, Peukert's law, worked example: 120 Ah over 20 h, exponent 1.4, drained at 120 A.
  it('120 Ah drained at 120 A last 0.30 h', () => {
    expect(hoursAt(120, { capacityAh: 120, ratedHours: 20, peukert: 1.4 })).toBeCloseTo(0.3, 2);
  });
});

describe('derived by hand', () => {
  // Derived: 0.64 A · 30 V = 19.2 W; 19.2 W / (0.85 · 12 V) = 1.882… A.
  it('0.64 A at 30 V are 1.88 A from a 12 V battery at 85 %', () => {
    expect(batteryCurrentA(0.64, 30, { voltageV: 12, efficiency: 0.85, ownA: 0 })).toBeCloseTo(1.88, 2);
  });
});

describe('the cell-size correction', () => {
  // IEEE 485, from memory, not confirmed.
  it.each([
    [25, 1],
    [21.1, 1.04],
    [15.6, 1.11],
    [10, 1.19],
    [4.4, 1.3],
    [-1.1, 1.43],
    [-3.9, 1.52],
  ])('at %d °C is %d', (celsius, factor) => {
    expect(temperatureFactor(celsius)).toBeCloseTo(factor, 12);
  });

  // IEEE 485, from memory, not confirmed: points of its table that are not among those taken; the line stays near them.
  it.each([
    [20, 1.056],
    [18.3, 1.08],
    [12.8, 1.15],
    [7.2, 1.25],
    [1.7, 1.35],
  ])('at %d °C is about %d', (celsius, factor) => {
    expect(Math.abs(temperatureFactor(celsius) - factor)).toBeLessThan(0.02);
  });
});
