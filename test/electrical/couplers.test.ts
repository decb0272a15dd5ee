import { describe, expect, it } from 'vitest';
import type { Policy } from '../../src/policy/policy.js';
import {
  balanceAt,
  combined,
  consumer,
  consumers,
  contextOf,
  coupler,
  type DeviceSpec,
  type LineSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';
import { repeater } from '../support/rules.js';

const line = (address: string, ...devices: DeviceSpec[]): LineSpec => ({ line: address, segments: [devices] });
const on = (medium: string, spec: LineSpec): LineSpec => ({ ...spec, medium });

/** What is charged where: `label: charged-as µA origin`, in the order of the plant. */
function charges(...lines: LineSpec[]): string[] {
  return chargesOf({ lines });
}

function chargesOf(plant: PlantSpec): string[] {
  return contextOf(plant).balances.flatMap(({ segment }) =>
    segment.loads.map(
      ({ chargedAs, current: { ua, origin } }) =>
        `${segment.line.address}/${segment.number} ${chargedAs} ${ua} ${origin}`,
    ),
  );
}

const uncharged = (...lines: LineSpec[]) =>
  contextOf({ lines }).installation.unchargedCouplers.map(({ device, lineAbove }) => [device.address, lineAbove]);

/** Design, the balance, 3. */
describe('a line coupler', () => {
  it.each([
    ['1.1.0 on the main line 1.0', line('1.0'), line('1.1', coupler(5)), '1.0'],
    ['1.0.0 on the backbone line 0.0', line('0.0'), line('1.0', coupler(5)), '0.0'],
    ['0.3.0 on the backbone line 0.0', line('0.0'), line('0.3', coupler(5)), '0.0'],
    ['15.15.0 on the main line 15.0', line('15.0'), line('15.15', coupler(5)), '15.0'],
  ])('is charged below and again, in full, above: %s', (_, above, below, target) => {
    const expected = [`${target}/1 coupler from below 5000 declared`, `${below.line}/1 participant 5000 declared`];
    expect(charges(above, below)).toEqual(expected);
    expect(charges(below, above)).toEqual(expected.toReversed()); // whichever the document names first
    expect(uncharged(above, below)).toEqual([]);
  });

  it('is charged in the old form alike', () => {
    const lines = [
      { line: '1.0', devices: [] },
      { line: '1.1', devices: [coupler(5)] },
    ];
    expect(chargesOf({ schema: 14, lines })).toEqual([
      '1.0/0 coupler from below 5000 declared',
      '1.1/0 participant 5000 declared',
    ]);
  });

  it('reaches one line up, not two', () => {
    expect(charges(line('0.0'), line('1.0'), line('1.1', coupler(5)))).toEqual([
      '1.0/1 coupler from below 5000 declared',
      '1.1/1 participant 5000 declared',
    ]);
  });

  it('is charged to the segment with the lowest number, whatever the order of the document', () => {
    const main: LineSpec = { line: '1.0', segments: [3, 1, 2].map((number) => ({ number, devices: [] })) };
    expect(charges(main, line('1.1', coupler(5)))).toContain('1.0/1 coupler from below 5000 declared');
  });

  it.each<[string, LineSpec[], string[]]>([
    ['is IP-enabled', [line('1.0'), line('1.1', coupler(5, 0, true))], ['1.1/1 participant 5000 declared']],
    ['has an IP line above', [on('MT-5', line('1.0')), line('1.1', coupler(5))], ['1.1/1 participant 5000 declared']],
    ['has radio above', [on('MT-2', line('1.0')), line('1.1', coupler(5))], ['1.1/1 participant 5000 declared']],
    ['stands on the backbone', [line('0.0', coupler(5)), line('1.0')], ['0.0/1 participant 5000 declared']],
    [
      'is no coupler, though at address 0',
      [line('1.0'), line('1.1', consumer(0, 5))],
      ['1.1/1 participant 5000 declared'],
    ],
    ['is not at address 0', [line('1.0'), line('1.1', coupler(5, 9))], ['1.1/1 participant 5000 declared']],
  ])('is charged on its own line only where it %s', (_, lines, expected) => {
    expect(charges(...lines)).toEqual(expected);
    expect(uncharged(...lines)).toEqual([]);
  });

  it('of a radio line is charged above only', () => {
    expect(charges(line('1.0'), on('MT-2', line('1.1', coupler(5))))).toEqual([
      '1.0/1 coupler from below 5000 declared',
    ]);
  });

  it('without a declared current is assumed on both sides', () => {
    expect(charges(line('1.0'), line('1.1', coupler()))).toEqual([
      '1.0/1 coupler from below 10000 assumed',
      '1.1/1 participant 10000 assumed',
    ]);
  });

  it('is an unknown product at address 0, assumed on both sides', () => {
    expect(charges(line('1.0'), line('1.1', { address: 0, unknown: true }))).toEqual([
      '1.0/1 coupler from below 10000 assumed',
      '1.1/1 participant 10000 assumed',
    ]);
  });

  it('in one unit with a supply: its current is a rating below, and not declared above', () => {
    const lines = [line('1.0'), line('1.1', combined(320), consumer(1, 30))];
    expect(charges(...lines)).toEqual(['1.0/1 coupler from below 10000 assumed', '1.1/1 participant 30000 declared']);
    expect(balanceAt('1.0', { lines }).segment.loads[0]?.current.because).toMatch(/^upper side of a combined/);
    expect(balanceAt('1.1', { lines })).toMatchObject({ verdict: 'sufficient', capacity: { usableUa: 320_000 } });
  });

  it('whose line above is missing is charged below only, and kept in mind', () => {
    const lines = [line('1.1', coupler(5)), line('2.0', coupler(5)), line('2.1', coupler(5))];
    expect(charges(...lines)).toEqual([
      '1.1/1 participant 5000 declared',
      '2.0/1 participant 5000 declared',
      '2.0/1 coupler from below 5000 declared',
      '2.1/1 participant 5000 declared',
    ]);
    expect(uncharged(...lines)).toEqual([
      ['1.1.0', '1.0'],
      ['2.0.0', '0.0'],
    ]);
  });

  describe('on the line above', () => {
    const plant = (main: readonly DeviceSpec[], policy: Partial<Policy> = {}): PlantSpec => ({
      lines: [line('1.0', ...main), line('1.1', coupler(5)), line('1.2', coupler(2.5))],
      policy,
    });

    it('makes that line need a supply', () => {
      expect(balanceAt('1.0', plant([]))).toMatchObject({
        verdict: 'unfed',
        load: { totalUa: 7_500, couplersBelowUa: 7_500 },
      });
    });

    it('takes a place and fan-in weight', () => {
      // Two couplers and 62 devices take all 64 places; weights 64 × 4; 2.5-classes 5 + 2.5 + 62 × 2.5 mA.
      const full = balanceAt('1.0', plant([supply(640), ...consumers(62, 1)]));
      expect(full).toMatchObject({
        placesUsed: 64,
        roomForDevices: 0,
        fanIn: { weight: 256, classSumUa: 162_500 },
        load: { totalUa: 69_500, couplersBelowUa: 7_500 },
      });
    });

    it('draws nothing by the policy, but still needs a supply and takes a place', () => {
      const plantNone = plant([], { couplerUpperSide: 'none' });
      expect(chargesOf(plantNone).slice(0, 2)).toEqual([
        '1.0/1 coupler from below 0 overridden',
        '1.0/1 coupler from below 0 overridden',
      ]);
      expect(balanceAt('1.0', plantNone)).toMatchObject({ verdict: 'unfed', placesUsed: 2, load: { totalUa: 0 } });
    });
  });

  describe('by a policy that drops the upper side', () => {
    const above = (...lines: LineSpec[]) =>
      chargesOf({ lines: [line('1.0'), ...lines], policy: { couplerUpperSide: 'none' } })[0];

    it.each<[string, LineSpec, string]>([
      ['dropped where it is charged below', line('1.1', coupler(5)), '0 overridden'],
      ['kept where radio is below', on('MT-2', line('1.1', coupler(5))), '5000 declared'],
      ['kept for a combined unit, which draws nothing below', line('1.1', combined(320)), '10000 assumed'],
    ])('is %s', (_, below, charge) => {
      expect(above(below)).toBe(`1.0/1 coupler from below ${charge}`);
    });
  });
});

describe('a bridge', () => {
  const bridged = (at: 1 | 2, policy: Partial<Policy> = {}): string[] => {
    const segments = [1, 2].map((number) => ({ number, devices: number === at ? [repeater(64, 5)] : [] }));
    return chargesOf({ lines: [{ line: '1.1', segments }], policy });
  };

  it('is charged where it stands and on the first segment of its line', () => {
    expect(bridged(2)).toEqual(['1.1/1 bridge 5000 declared', '1.1/2 participant 5000 declared']);
  });

  it('is charged once where it stands on the first segment', () => {
    expect(bridged(1)).toEqual(['1.1/1 participant 5000 declared']);
  });

  it('is charged to the lowest number, whatever the order of the document', () => {
    const segments = [3, 2, 7].map((number) => ({ number, devices: number === 7 ? [repeater(64, 5)] : [] }));
    expect(chargesOf({ lines: [{ line: '1.1', segments }] })).toEqual([
      '1.1/2 bridge 5000 declared',
      '1.1/7 participant 5000 declared',
    ]);
  });

  it.each([
    ['a combined unit, which feeds the segment that it stands on', combined(320, 64), ['1.1/1 bridge 10000 assumed']],
    ['not an IP-enabled unit', { address: 64, ma: 320, is: { ...combined().is, isIpEnabled: true } }, []],
  ])('away from address 0 is %s', (_, unit, expected) => {
    const segments = [[], [unit]];
    expect(chargesOf({ lines: [{ line: '1.1', segments }] })).toEqual(expected);
  });

  it('that stands on radio is charged on the twisted pair that it reaches', () => {
    const segments = [
      { number: 1, devices: [] },
      { number: 2, medium: 'MT-2', devices: [repeater(64, 5)] },
    ];
    expect(chargesOf({ lines: [{ line: '1.1', segments }] })).toEqual(['1.1/1 bridge 5000 declared']);
  });

  it('does not count among the couplers of lines below', () => {
    const segments = [
      { number: 1, devices: [consumer(1, 10)] },
      { number: 2, devices: [repeater(64, 5)] },
    ];
    expect(balanceAt('1.1 segment 1', { lines: [{ line: '1.1', segments }] }).load).toMatchObject({
      totalUa: 15_000,
      couplersBelowUa: 0,
    });
  });

  it('loses its second charge by the policy that drops the upper side', () => {
    expect(bridged(2, { couplerUpperSide: 'none' })).toEqual([
      '1.1/1 bridge 0 overridden',
      '1.1/2 participant 5000 declared',
    ]);
  });

  it('is charged once in the old form, which has no segments to charge', () => {
    const lines = [{ line: '1.1', devices: [repeater(64, 5)] }];
    expect(chargesOf({ schema: 14, lines })).toEqual(['1.1/0 participant 5000 declared']);
  });
});
