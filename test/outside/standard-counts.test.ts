import { describe, expect, it } from 'vitest';
import { capacityOf, shortCircuitOf } from '../../src/electrical/capacity.js';
import { currentClass } from '../../src/electrical/fan-in.js';
import { fanInExceeded } from '../../src/rules/fan-in-exceeded.js';
import { shortCircuitSum } from '../../src/rules/short-circuit-sum.js';
import { tooManyDevices } from '../../src/rules/too-many-devices.js';
import { tooManySupplies } from '../../src/rules/too-many-supplies.js';
import { balanceOfSegment, checkSegment, consumer, consumers, supply } from '../support/plants.js';

const supplies = (...ratings: number[]) => ratings.map((ma) => supply(ma));
const capacity = (...ratings: number[]) => capacityOf(balanceOfSegment(supplies(...ratings)).segment.supplies);

describe('the bus standard’s counts', () => {
  // The standard, volume 4/1 §2.7: rounded up to the next step of 2.5 mA up to 20 mA, then of 5 mA.
  it.each([
    [2.5, 2.5],
    [2.6, 5],
    [3, 5],
    [5, 5],
    [5.1, 7.5],
    [12, 12.5],
    [17.5, 17.5],
    [19.9, 20],
    [20, 20],
    [20.1, 25],
    [25, 25],
    [25.1, 30],
    [30, 30],
    [60, 60],
  ])('a current of %d mA is of class %d', (ma, classMa) => {
    expect(currentClass(ma * 1000)).toBe(classMa * 1000);
  });

  // The standard, volume 4/1 §2.7: the classes stay below the nominal current; the weights, 4 each, below 257.
  it.each([
    ['classes of 157.5 mA on 160 mA', 160, 63, 0],
    ['classes of 160 mA on 160 mA', 160, 64, 1],
    ['64 devices on 320 mA', 320, 64, 0],
    ['65 devices on 320 mA', 320, 65, 1],
  ])('fan-in of %s', (_, ratingMa, devices, findings) => {
    const segment = [supply(ratingMa), ...consumers(devices, 2.5)];
    expect(checkSegment(fanInExceeded, segment).findings).toHaveLength(findings);
  });

  // The standard, volume 3/2/2: 64 devices of the classic type on a segment, 256 of the newer type.
  it.each([
    [64, []],
    [65, ['note']],
    [256, ['note']],
    [257, ['error']],
  ])('%i devices on a segment', (devices, severities) => {
    const { findings } = checkSegment(tooManyDevices, consumers(devices, 2.5));
    expect(findings.map(({ severity }) => severity)).toEqual(severities);
  });

  // The standard, volume 9/2 figure 3: at most so many amperes into a short circuit.
  it.each([
    [160, 1.0],
    [320, 1.0],
    [640, 1.5],
    [960, 2.25],
    [1280, 3.0],
  ])('a supply of %i mA drives at most %d A into a short circuit', (ratingMa, amperes) => {
    expect(shortCircuitOf(ratingMa * 1000)).toBe(amperes * 1e6);
  });

  // The standard, volume 9/2 §2.11: together at most 3 A; which pairs that leaves is derived from figure 3.
  it.each([
    ['160 + 160', [160, 160], true],
    ['320 + 320', [320, 320], true],
    ['320 + 640', [320, 640], true],
    ['640 + 640', [640, 640], true],
    ['960 + 160', [960, 160], false],
    ['960 + 320', [960, 320], false],
    ['960 + 640', [960, 640], false],
    ['960 + 960', [960, 960], false],
    ['1280 + 160', [1280, 160], false],
    ['1280 + 320', [1280, 320], false],
    ['1280 + 640', [1280, 640], false],
    ['1280 + 960', [1280, 960], false],
    ['1280 + 1280', [1280, 1280], false],
    ['960 alone', [960], true],
    ['1280 alone', [1280], true],
  ])('%s may stand on one segment: %s', (_, ratings, isAdmissible) => {
    const { findings } = checkSegment(shortCircuitSum, [...supplies(...ratings), consumer(1, 10)]);
    expect(findings).toHaveLength(isAdmissible ? 0 : 1);
    expect(capacity(...ratings).usableUa !== null).toBe(isAdmissible);
  });

  // The standard, volumes 3/2/2 and 9/2 §2.11: two central supplies; volume 9/2 §6: eight decentral ones beside them.
  it.each([
    ['two central ones', [640, 640], true],
    ['three central ones', [160, 160, 160], false],
    ['eight decentral ones of 25 mA', Array(8).fill(25), true],
    ['eight of 40 mA', Array(8).fill(40), true],
    ['eight of 80 mA', Array(8).fill(80), true],
    ['nine of 80 mA', Array(9).fill(80), false],
    ['eight of 80 mA that join two central ones', [640, 640, ...Array(8).fill(80)], true],
    ['nine that join two central ones', [640, 640, ...Array(9).fill(80)], false],
    ['eight that join three central ones', [160, 160, 160, ...Array(8).fill(80)], false],
  ])('%s are admitted: %s', (_, ratings: number[], isAdmissible) => {
    const { findings } = checkSegment(tooManySupplies, [...supplies(...ratings), consumer(1, 10)]);
    expect(findings).toHaveLength(isAdmissible ? 0 : 1);
    expect(capacity(...ratings).usableUa !== null).toBe(isAdmissible);
  });

  it('eight decentral supplies of 80 mA add 640 mA to two of 640 mA', () => {
    // The standard, volume 9/2 §6; 8 × 80 + 2 × 640 = 1920
    expect(capacity(640, 640, ...Array<number>(8).fill(80)).usableUa).toBe(1_920_000);
  });
});
