import { describe, expect, it } from 'vitest';
import { chokeDropV, reachOf } from '../../src/electrical/reach.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import type { Policy } from '../../src/policy/policy.js';
import { balanceOfSegment, consumer, supply } from '../support/plants.js';

const reach = (loadMa: number, ratingMa: number | null = 640, more: Partial<Policy> = {}) =>
  reachOf(Math.round(loadMa * 1000), ratingMa === null ? null : ratingMa * 1000, { ...COMMON_PRACTICE, ...more });

const voltage = (lengthM: number) => ({ lengthM, boundBy: 'voltage' });
const DISTANCE = { lengthM: 350, boundBy: 'distance' };

/** Design, the balance, 10: (V − 21) / (73.2 Ω/km · I), twice that for a spread load, at most 350 m. */
describe('the reach of a segment', () => {
  it('at 500 mA: typically from 30 V, at least from 28 V less the choke', () => {
    expect(reach(500)).toEqual({
      // 9 / 0.0366 = 245.9016…; twice that is beyond 350
      typical: { supplyV: 30, allAtEnd: voltage(245.9), evenlySpread: DISTANCE },
      // 28 − 1.5 = 26.5; 5.5 / 0.0366 = 150.2732…; twice 300.5464…
      least: { supplyV: 26.5, allAtEnd: voltage(150.2), evenlySpread: voltage(300.5) },
    });
  });

  it('at 1000 mA from a larger supply, whose choke takes more', () => {
    // 9 / 0.0732 = 122.9508…, twice 245.9016…; 28 − 2.5 = 25.5; 4.5 / 0.0732 = 61.4754…, twice 122.9508…
    expect(reach(1000, 1280)).toEqual({
      typical: { supplyV: 30, allAtEnd: voltage(122.9), evenlySpread: voltage(245.9) },
      least: { supplyV: 25.5, allAtEnd: voltage(61.4), evenlySpread: voltage(122.9) },
    });
  });

  it('is bound by the distance up to the load at which the voltage just lasts for it', () => {
    // 9 V / (350 m · 0.0732 Ω/m) = 0.3512880… A
    expect(reach(351.288).typical.allAtEnd).toEqual(DISTANCE);
    expect(reach(351.289).typical.allAtEnd).toEqual(voltage(349.9));
  });

  it('is the distance where nothing draws', () => {
    expect(reach(0)).toMatchObject({
      typical: { allAtEnd: DISTANCE, evenlySpread: DISTANCE },
      least: { allAtEnd: DISTANCE, evenlySpread: DISTANCE },
    });
  });

  it('is none where the supply may give less than a device needs', () => {
    expect(reach(10, 640, { leastSupplyV: 22 }).least.allAtEnd).toEqual(voltage(0)); // 22 − 1.5 < 21
  });

  it.each<[string, Partial<Policy>, object]>([
    ['the cable', { loopOhmPerKm: 130 }, voltage(138.4)], // 9 / 0.065 = 138.4615…
    ['the voltage of the supply', { typicalSupplyV: 29 }, voltage(218.5)], // 8 / 0.0366 = 218.5792…
    ['the voltage at the device', { leastDeviceV: 20 }, voltage(273.2)], // 10 / 0.0366 = 273.2240…
    ['the distance', { supplyToDeviceM: 200 }, { lengthM: 200, boundBy: 'distance' }],
  ])('goes by the policy: %s', (_, more, allAtEnd) => {
    expect(reach(500, 640, more).typical.allAtEnd).toEqual(allAtEnd);
  });
});

describe('the drop over the choke', () => {
  it.each([
    [160, 1.5],
    [640, 1.5],
    [640.001, 2.5],
    [1280, 2.5],
  ])('of %d mA is %d V', (ratingMa, dropV) => {
    expect(chokeDropV(Math.round(ratingMa * 1000))).toBe(dropV);
  });

  it('is the greater where no rating is known', () => {
    expect(chokeDropV(null)).toBe(2.5);
  });

  it.each<[string, (number | undefined)[], number, number]>([
    ['the largest of the supplies', [320, 640.001], 100, 25.5],
    ['both of the smaller kind', [320, 640], 100, 26.5],
    ['the one that would be chosen where there is none', [], 512, 26.5],
    ['the one that would be chosen for 1 µA more', [], 512.001, 25.5],
    ['the greater drop where none in stock would do', [], 1024.001, 25.5],
    ['the greater drop beside an unrated supply', [320, undefined], 100, 25.5],
  ])('in a segment goes by %s', (_, ratings, loadMa, supplyV) => {
    const devices = [...ratings.map((ma) => supply(ma)), consumer(1, loadMa)];
    expect(balanceOfSegment(devices).reach?.least.supplyV).toBe(supplyV);
  });

  it('is not asked for where nothing draws', () => {
    expect(balanceOfSegment([supply(640)]).reach).toBeNull();
  });

  it('is bound by the distance alone at no load, even where the policy leaves no voltage to drop', () => {
    expect(reach(0, 320, { leastSupplyV: 22.5 }).least).toEqual({
      supplyV: 21, // 22.5 − 1.5 over the choke
      allAtEnd: DISTANCE,
      evenlySpread: DISTANCE,
    });
  });
});
