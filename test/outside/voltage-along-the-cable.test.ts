import { describe, expect, it } from 'vitest';
import { type ReachAtVoltage, reachOf } from '../../src/electrical/reach.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';

/**
 * The reach is a closed form; here the voltage is followed along the cable in small steps instead, each step of cable
 * dropping what its own current and resistance make (Ohm's law), with no use of that form.
 */
const STEP_M = 0.01;

/** Voltage at the end of a run whose whole load hangs there. */
function voltageAtEnd(supplyV: number, loadA: number, ohmPerKm: number, lengthM: number): number {
  let volts = supplyV;
  for (let at = 0; at < lengthM; at += STEP_M) volts -= (ohmPerKm / 1000) * Math.min(STEP_M, lengthM - at) * loadA;
  return volts;
}

/** Voltage at the end of a run along which each step of cable feeds an equal part of the load. */
function voltageAtEndOfSpread(supplyV: number, loadA: number, ohmPerKm: number, lengthM: number): number {
  const steps = Math.round(lengthM / STEP_M);
  let volts = supplyV;
  let amperes = loadA;
  for (let step = 0; step < steps; step++) {
    volts -= (ohmPerKm / 1000) * STEP_M * (amperes - loadA / steps / 2); // the mean of the step
    amperes -= loadA / steps;
  }
  return volts;
}

/** The standard, volume 3/2/2 §1.2.2: 21 V as installed. */
const LEAST_DEVICE_V = 21;

/** Handbook, IEC 60028: copper at 20 °C has 1/58 Ω·mm²/m. Both wires of a pair of 0.8 mm, per kilometre. */
const GEOMETRY_OHM_PER_KM = (2 * 1000) / 58 / (Math.PI * (0.8 / 2) ** 2);

/** Handbook, IEC 60228: 36.0 Ω/km for a solid conductor of 0.5 mm², twice for both wires. */
const CONDUCTOR_OHM_PER_KM = 2 * 36.0;

/** Handbook, VDE 0816: greatest loop resistance of a pair of 0.8 mm. */
const CABLE_OHM_PER_KM = 73.2;

const CABLES: readonly (readonly [string, number])[] = [
  ['73.2 Ω/km of the cable standard', CABLE_OHM_PER_KM],
  ['72.0 Ω/km of the conductor standard', CONDUCTOR_OHM_PER_KM],
  ['copper by its geometry', GEOMETRY_OHM_PER_KM],
];

/** Load, largest supply, and the least voltage behind its choke: the standard, volume 9/2 §2.2 and §5.6. */
const LOADS: readonly (readonly [number, number, number])[] = [
  [160, 160, 28 - 2 * 0.75],
  [400, 640, 28 - 2 * 0.75],
  [640, 640, 28 - 2 * 0.75],
  [1024, 1280, 28 - 2 * 1.25],
  [1280, 1280, 28 - 2 * 1.25],
];

/** The standard, volume 9/2 §2.11: 350 m from a supply to a device. */
const LONGEST_M = 350;

describe.each(CABLES)('with %s', (_, loopOhmPerKm) => {
  describe.each(LOADS)('and %i mA from a supply of %i mA', (loadMa, ratingMa, leastV) => {
    const figures = reachOf(loadMa * 1000, ratingMa * 1000, { ...COMMON_PRACTICE, loopOhmPerKm });

    // The standard, volume 9/2 §2.2: typically 30 V at the supply.
    it.each<[string, ReachAtVoltage, number]>([
      ['typical', figures.typical, 30],
      ['least', figures.least, leastV],
    ])('at %s voltage the figure holds, and a metre more would not', (_name, { allAtEnd, evenlySpread }, supplyV) => {
      for (const [{ lengthM, boundBy }, voltage] of [
        [allAtEnd, voltageAtEnd],
        [evenlySpread, voltageAtEndOfSpread],
      ] as const) {
        expect(voltage(supplyV, loadMa / 1000, loopOhmPerKm, lengthM)).toBeGreaterThanOrEqual(LEAST_DEVICE_V - 1e-9);
        const further = voltage(supplyV, loadMa / 1000, loopOhmPerKm, lengthM + 1);
        if (boundBy === 'voltage') expect(further).toBeLessThan(LEAST_DEVICE_V);
        else expect(lengthM).toBe(LONGEST_M);
      }
    });
  });
});

describe('the resistance that is taken', () => {
  it('is that of the cable standard, the greatest of the three, and within a few per cent of the others', () => {
    expect(COMMON_PRACTICE.loopOhmPerKm).toBe(CABLE_OHM_PER_KM);
    expect(CABLE_OHM_PER_KM).toBeGreaterThan(CONDUCTOR_OHM_PER_KM);
    expect(CONDUCTOR_OHM_PER_KM).toBeGreaterThan(GEOMETRY_OHM_PER_KM);
    expect(COMMON_PRACTICE.loopOhmPerKm / CONDUCTOR_OHM_PER_KM).toBeLessThan(1.02);
    expect(COMMON_PRACTICE.loopOhmPerKm / GEOMETRY_OHM_PER_KM).toBeLessThan(1.07);
  });

  it('of the bare geometry is the published 68.6 Ω/km', () => {
    // Derived: 2 · 1000 / 58 / (π · 0.4²) = 34.4827… / 0.502654…
    expect(GEOMETRY_OHM_PER_KM).toBeCloseTo(68.6, 1);
  });

  it('gives no longer a reach than either of the others', () => {
    const lengths = CABLES.map(([, loopOhmPerKm]) => {
      return reachOf(640_000, 640_000, { ...COMMON_PRACTICE, loopOhmPerKm }).least.allAtEnd.lengthM;
    });
    expect(lengths).toEqual([...lengths].sort((a, b) => a - b));
    expect(new Set(lengths).size).toBe(3);
  });
});

describe('64 devices of 10 mA, evenly over 350 m', () => {
  // Derived by hand, confirmed with a circuit simulator: 0.64 A · 25.2 Ω · 65/128 = 8.19 V below 30 V.
  it('still have 21.81 V at the end, so that the distance binds and not the voltage', () => {
    const sections = Array.from({ length: 64 }, (_, index) => (64 - index) * 0.01 * (25.2 / 64));
    const endV = sections.reduce((volts, drop) => volts - drop, 30);
    expect(endV).toBeCloseTo(21.81, 9);
    const { evenlySpread } = reachOf(640_000, 640_000, { ...COMMON_PRACTICE, loopOhmPerKm: 72 }).typical;
    expect(evenlySpread).toEqual({ lengthM: LONGEST_M, boundBy: 'distance' });
  });

  it('would be bound by the voltage from 714.286 mA on', () => {
    // 9 V / (0.072 Ω/m · 350 m / 2) = 0.714285… A spread evenly
    const spread = (ua: number) =>
      reachOf(ua, 640_000, { ...COMMON_PRACTICE, loopOhmPerKm: 72 }).typical.evenlySpread.boundBy;
    expect([spread(714_285), spread(714_286)]).toEqual(['distance', 'voltage']);
  });
});
