import { describe, expect, it } from 'vitest';
import {
  balanceAt,
  balanceOfSegment,
  combined,
  consumer,
  consumers,
  coupler,
  type DeviceSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';

/** Design, the balance, 6: headroom over 10 mA, bounded by the places left. */
describe('the room for further devices', () => {
  it.each<[string, DeviceSpec[], number]>([
    ['is the headroom in whole devices: (256 − 200) / 10', [supply(320), consumer(1, 200)], 5],
    ['is one at exactly 10 mA of headroom', [supply(320), consumer(1, 246)], 1],
    ['is none 1 µA short of it', [supply(320), consumer(1, 246.001)], 0],
    ['is none where the load is at the target', [supply(320), consumer(1, 256)], 0],
    ['is none, not less, where it is beyond', [supply(320), consumer(1, 400)], 0],
    ['is bounded by 64 places: 512 − 60 mA would hold 45', [supply(640), ...consumers(60, 1)], 4],
    ['is none with all 64 places taken', [supply(640), ...consumers(64, 1)], 0],
    ['is bounded by 256 where there are more than 64 already', [supply(1280), ...consumers(250, 1)], 6],
    ['is none beyond 256', [supply(1280), ...consumers(257, 1)], 0],
    ['counts the sum of admissible supplies: (1024 − 1000) / 10', [supply(640), supply(640), consumer(1, 1000)], 2],
  ])('%s', (_, devices, room) => {
    expect(balanceOfSegment(devices).roomForDevices).toBe(room);
  });

  it('goes by the policy’s current and places', () => {
    const room = (policy: object) => balanceOfSegment([supply(320), consumer(1, 6)], policy).roomForDevices;
    expect(room({ assumedCurrentMa: 12.5 })).toBe(20); // (256 − 6) / 12.5
    expect(room({ devicesClassic: 3 })).toBe(2);
  });
});

/** Design, the balance, 7: the average that each assumed device could draw before the verdict turns. */
describe('the break-even of assumed currents', () => {
  const silent = (n: number): DeviceSpec[] => Array.from({ length: n }, (_, index) => ({ address: 100 + index }));
  const breakEven = (devices: DeviceSpec[]) => balanceOfSegment(devices).breakEven;

  it.each<[string, DeviceSpec[], number | null, number | null]>([
    // (256 − 56) / 4 and (320 − 56) / 4
    ['shares out what the known load leaves', [supply(320), consumer(1, 56), ...silent(4)], 50_000, 66_000],
    // (128 − 0) / 3 = 42.666…, (160 − 0) / 3 = 53.333…
    ['is rounded down to whole µA', [supply(160), ...silent(3)], 42_666, 53_333],
    ['is 0 where the known load is at the target', [supply(160), consumer(1, 128), ...silent(2)], 0, 16_000],
    ['is none 1 µA beyond the target', [supply(160), consumer(1, 128.001), ...silent(2)], null, 15_999],
    ['is 0 where the known load is at the rating', [supply(160), consumer(1, 160), ...silent(2)], null, 0],
    ['is none 1 µA beyond the rating', [supply(160), consumer(1, 160.001), ...silent(2)], null, null],
    ['is none where nothing is assumed', [supply(160), consumer(1, 10)], null, null],
    ['is none beside an unrated supply', [supply(160), supply(), ...silent(2)], null, null],
    ['is none without a supply', [...silent(2)], null, null],
    ['is none where the supplies may not stand together', [supply(1280), supply(160), ...silent(2)], null, null],
  ])('%s', (_, devices, toTightUa, toInsufficientUa) => {
    expect(breakEven(devices)).toEqual({ toTightUa, toInsufficientUa });
  });

  it('turns the verdict just above: what the figure promises, a policy that assumes so much shows', () => {
    const devices = [supply(160), consumer(1, 10), ...silent(3)];
    const { toTightUa, toInsufficientUa } = breakEven(devices);
    const verdictAt = (ua: number) => balanceOfSegment(devices, { assumedCurrentMa: ua / 1000 }).verdict;
    const around = (ua: number | null) => [verdictAt(Number(ua)), verdictAt(Number(ua) + 1)];
    expect(around(toTightUa)).toEqual(['sufficient', 'tight']);
    expect(around(toInsufficientUa)).toEqual(['tight', 'insufficient']);
  });

  describe('of a coupler', () => {
    const plant = (unit: DeviceSpec): PlantSpec => ({
      lines: [
        { line: '1.0', segments: [[supply(160), consumer(1, 28)]] },
        { line: '1.1', segments: [[supply(320), consumer(1, 56), unit, { address: 9 }]] },
      ],
    });

    it('counts on both sides', () => {
      // Above (128 − 28) / 1 and (160 − 28) / 1; below, with one more assumed, (256 − 56) / 2 and (320 − 56) / 2.
      expect(balanceAt('1.0', plant(coupler())).breakEven).toEqual({ toTightUa: 100_000, toInsufficientUa: 132_000 });
      expect(balanceAt('1.1', plant(coupler())).breakEven).toEqual({ toTightUa: 100_000, toInsufficientUa: 132_000 });
      expect(balanceAt('1.0', plant(coupler(5))).breakEven).toEqual({ toTightUa: null, toInsufficientUa: null });
    });

    it('in one unit with a supply counts above only', () => {
      expect(balanceAt('1.0', plant(combined())).load.assumedItems).toBe(1);
      expect(balanceAt('1.1', plant(combined())).load.assumedItems).toBe(1); // the other device
    });
  });
});
