import { describe, expect, it } from 'vitest';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import { currentImplausible } from '../../src/rules/current-implausible.js';
import { balanceOfSegment, checkSegment, consumer, type DeviceSpec, supply } from '../support/plants.js';

const silent = (n: number): DeviceSpec[] => Array.from({ length: n }, (_, address) => ({ address }));

const verdict = (ratingMa: number, devices: number, targetLoad: number) =>
  balanceOfSegment([supply(ratingMa), ...silent(devices)], { targetLoad }).verdict;

describe('the rule of thumb of 10 mA per device', () => {
  it('is what is assumed, with the rest of common practice', () => {
    // Common practice, no source: 10 mA, planned to about 80 %, ratings of 160, 320, 640 and 1280 mA.
    expect(COMMON_PRACTICE).toMatchObject({
      assumedCurrentMa: 10,
      targetLoad: 0.8,
      stock: [{ ratingMa: 160 }, { ratingMa: 320 }, { ratingMa: 640 }, { ratingMa: 1280 }],
    });
  });

  // Common practice, no source: how many devices of 10 mA each usual rating carries, whole and at 80 %.
  it.each([
    [160, 16, 12],
    [320, 32, 25],
    [640, 64, 51],
    [1280, 128, 102],
  ])('%i mA carry %i devices at the whole rating, %i at 80 %%, and not one more', (ratingMa, whole, target) => {
    expect([verdict(ratingMa, whole, 1), verdict(ratingMa, whole + 1, 1)]).toEqual(['sufficient', 'insufficient']);
    expect([verdict(ratingMa, target, 0.8), verdict(ratingMa, target + 1, 0.8)]).toEqual(['sufficient', 'tight']);
  });

  // Common practice, no source: real devices draw 2.5 to 60 mA, a display fed from the bus alone about 60.
  it.each([2.5, 4, 12, 20, 60])('doubts no real device: %d mA', (ma) => {
    expect(checkSegment(currentImplausible, [consumer(1, ma)]).findings).toEqual([]);
  });
});
