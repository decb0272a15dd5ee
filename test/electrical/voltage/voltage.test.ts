import { describe, expect, it } from 'vitest';
import type { Voltages } from '../../../src/electrical/voltage/voltage.js';
import { choke, consumer, contextOf, type DeviceSpec, type PlantSpec, supply } from '../../support/plants.js';

type Sheet = Readonly<Record<string, unknown>>;

function voltagesOn(label: string, plant: PlantSpec): Voltages | null {
  const { balances } = contextOf(plant);
  const found = balances.find(({ segment }) => segment.line.address === label);
  return found?.onSite?.voltages ?? null;
}

/** Line 1.1 with a supply and consumers 1.1.1, 1.1.2, …, as an entry of a sheet has it. */
function on11(
  loadsMa: readonly number[],
  entry: Sheet,
  more: Partial<PlantSpec> & { readonly supplies?: object[] } = {},
) {
  const { supplies = [], ...rest } = more;
  const devices: DeviceSpec[] = [supply(640), ...loadsMa.map((ma, at) => consumer(at + 1, ma))];
  return voltagesOn('1.1', {
    lines: [{ line: '1.1', segments: [devices] }],
    sheet: { supplies, segments: [{ segment: '1.1', ...entry }] },
    ...rest,
  });
}

const lineOf = (lengthsM: readonly number[]) =>
  lengthsM.map((length, at) => ({ from: `p${at}`, to: `p${at + 1}`, length: `${length} m` }));

const lowest = (of: Voltages['cases']['typical'] | undefined) => {
  const v = (one: Voltages['cases']['typical']['favourable'] | null | undefined) => (one && 'v' in one ? one.v : one);
  return { unfavourable: v(of?.unfavourable), favourable: v(of?.favourable) };
};

describe('with every place known', () => {
  const entry = {
    cable: '0.8 mm pair',
    runs: lineOf([100, 100]),
    places: [
      { at: 'p0', devices: ['Supply'] },
      { at: 'p1', devices: ['1.1.1'] },
      { at: 'p2', devices: ['1.1.2'] },
    ],
  };

  it('is exact: r·l·I of each length, in both cases', () => {
    // 73.2 Ω/km: 7.32 Ω each 100 m; 300 mA on the first, 200 mA on the second length.
    const dropV = 7.32 * 0.3 + 7.32 * 0.2;
    const voltages = on11([100, 200], entry);
    expect(voltages?.basis).toBe('all placed');
    expect(lowest(voltages?.cases.typical).unfavourable).toBeCloseTo(30 - dropV, 5);
    expect(lowest(voltages?.cases.least).favourable).toBeCloseTo(28 - 1.5 - dropV, 5); // choke of a supply up to 640 mA
    expect(voltages?.cases.typical.estimateV).toBeNull();
    expect(voltages?.profile.points.map(({ name, distanceM }) => [name, distanceM])).toEqual([
      ['p0', 0],
      ['p1', 100],
      ['p2', 200],
    ]);
    const [, middle] = voltages?.profile.points ?? [];
    expect(middle?.bands.typical.lowV).toBeCloseTo(30 - 7.32 * 0.3, 5);
    expect(middle?.bands.typical.highV).toBe(middle?.bands.typical.lowV);
  });

  it('takes temperature and a second pair into account', () => {
    const voltages = on11([100, 200], { ...entry, temperature: '40 °C', doubledPair: true });
    const dropV = ((7.32 * (1 + 0.00393 * 20)) / 2) * 0.5;
    expect(lowest(voltages?.cases.typical).unfavourable).toBeCloseTo(30 - dropV, 5);
  });

  it('takes the terminal voltage and the resistance of the supply from the sheet', () => {
    const supplies = [
      { supply: 'Supply', terminalVoltage: '29 V', leastTerminalVoltage: '27.5 V', sourceResistance: '2 ohm' },
    ];
    const voltages = on11([100, 200], entry, { supplies });
    const dropV = 7.32 * 0.5 + 2 * 0.3;
    expect(lowest(voltages?.cases.typical).unfavourable).toBeCloseTo(29 - dropV, 5);
    expect(lowest(voltages?.cases.least).unfavourable).toBeCloseTo(27.5 - dropV, 5);
    expect(voltages?.cases.typical.supplyV).toBe(29);
  });

  it('promises no voltage beyond what the supply delivers', () => {
    expect(on11([400, 240], entry)?.verdict).not.toBe('overloaded');
    expect(on11([400, 240.001], entry)?.verdict).toBe('overloaded');
    const supplies = [{ supply: 'Supply', currentLimit: '900 mA' }];
    expect(on11([400, 240.001], entry, { supplies })?.verdict).not.toBe('overloaded');
    const withAuxiliary = { ...entry, auxiliaryLoad: '100 mA' };
    expect(on11([400, 140], withAuxiliary)?.verdict).not.toBe('overloaded');
    expect(on11([400, 140.001], withAuxiliary)?.verdict).toBe('overloaded');
  });

  it('draws more where the policy takes constant power: I·24 V at every voltage', () => {
    const voltages = on11([0, 200], entry, { policy: { deviceModel: 'constant power' } });
    // 4.8 W behind 14.64 Ω from 30 V: V = (30 + √(30² − 4·14.64·4.8))/2.
    const v = (30 + Math.sqrt(900 - 4 * 14.64 * 4.8)) / 2;
    expect(lowest(voltages?.cases.typical).unfavourable).toBeCloseTo(v, 5);
  });

  it.each([
    ['just carries the power', 15.36, 'holds no voltage of 21 V'],
    ['no longer does', 15.37, 'has no working point'],
  ])('a cable that %s', (_, watts) => {
    // P > V²/4R has no solution: 30² / (4·14.64) = 15.368 W at the typical voltage.
    const voltages = on11([0, (watts / 24) * 1000], entry, {
      policy: { deviceModel: 'constant power' },
      supplies: [{ supply: 'Supply', currentLimit: '5 A' }],
    });
    const { favourable } = voltages?.cases.typical ?? {};
    expect(favourable && 'because' in favourable).toBe(watts > 15.368);
    expect(voltages?.verdict).toBe('too low');
  });

  it('is decided at 21 V in the least case', () => {
    // 26.5 V less 14.64 Ω · I is 21 V at 375.683… mA.
    const at = (ma: number) => on11([0, ma], entry)?.verdict;
    expect(at(375.683)).toBe('holds');
    expect(at(375.684)).toBe('too low');
  });

  it('is undecidable where no run leads to a device', () => {
    const apart = {
      ...entry,
      runs: [
        { from: 'p0', to: 'p1', length: '100 m' },
        { from: 'p2', to: 'p3', length: '100 m' },
      ],
    };
    expect(on11([100, 200], apart)?.verdict).toBe('undecidable');
  });
});

describe('with a supply at both ends', () => {
  it('has the current shared out by the cable, as in M13.10 of the handbook', () => {
    // Mehta, Principles of Power System, ch. 13, example 13.10, by the source of trade facts: 220/220 V, 600 m,
    // 3.4e-4 Ω/m; 20@100 40@250 50@400 30@500; 61.7 A from the first end, least 215.69 V at 400 m. Here a thousandth of
    // the currents at a thousand times the resistance, which leaves the drops of 4.31 V as they are.
    const runs = lineOf([100, 150, 150, 100, 100]);
    const voltages = voltagesOn('1.1', {
      lines: [
        {
          line: '1.1',
          segments: [
            [
              { ...supply(160), name: 'A' },
              { ...supply(160), name: 'B' },
              ...[20, 40, 50, 30].map((ma, at) => consumer(at + 1, ma)),
            ],
          ],
        },
      ],
      sheet: {
        supplies: ['A', 'B'].map((one) => ({ supply: one, terminalVoltage: '30 V' })),
        segments: [
          {
            segment: '1.1',
            loopResistance: '340 ohm/km',
            runs,
            places: [
              { at: 'p0', devices: ['A'] },
              { at: 'p5', devices: ['B'] },
              ...[1, 2, 3, 4].map((at) => ({ at: `p${at}`, devices: [`1.1.${at}`] })),
            ],
          },
        ],
      },
    });
    expect(30 - Number(lowest(voltages?.cases.typical).unfavourable)).toBeCloseTo(220 - 215.69, 2);
    expect(voltages?.profile.points[3]?.distanceM).toBe(200); // the nearer of the two
  });
});

describe('with a shared supply', () => {
  it('takes what the other segment draws out of the resistance and the limit of the supply', () => {
    const plant = (otherMa: number) =>
      voltagesOn('1.1', {
        lines: [
          { line: '1.1', segments: [[supply(640), consumer(1, 100)]] },
          { line: '1.2', segments: [[choke(), consumer(1, otherMa)]] },
        ],
        sheet: {
          supplies: [{ supply: 'Supply', sourceResistance: '1 ohm' }],
          segments: [
            {
              segment: '1.1',
              cable: '0.8 mm pair',
              runs: lineOf([100]),
              places: [
                { at: 'p0', devices: ['Supply'] },
                { at: 'p1', devices: ['1.1.1'] },
              ],
            },
            { segment: '1.2', fedBy: ['Supply'] },
          ],
        },
      });
    expect(lowest(plant(200)?.cases.typical).unfavourable).toBeCloseTo(30 - 0.3 - 0.732, 5);
    expect(plant(540)?.verdict).not.toBe('overloaded');
    expect(plant(540.001)?.verdict).toBe('overloaded');
  });
});

describe('with a length alone', () => {
  it('bounds the voltage by the whole load at the end, and by the smallest device there', () => {
    const voltages = on11([100, 200, 50], { cable: '0.8 mm pair', farthest: '200 m' });
    expect(voltages?.basis).toBe('length only');
    expect(lowest(voltages?.cases.typical).unfavourable).toBeCloseTo(30 - 14.64 * 0.35, 5);
    // In 1000 m, which a segment may have, five ways of 200 m could lead there side by side.
    expect(lowest(voltages?.cases.typical).favourable).toBeCloseTo(30 - (14.64 / 5) * 0.05, 5);
    // Spread evenly over 20 parts the drop is R·I·(n + 1)/2n.
    expect(voltages?.cases.typical.estimateV).toBeCloseTo(30 - (14.64 * 0.35 * 21) / 40, 5);
    expect(voltages?.profile.points.at(-1)).toMatchObject({ name: null, distanceM: 200 });
  });

  it('knows of no drop at best where only all of the cable is known', () => {
    const voltages = on11([100, 200], { cable: '0.8 mm pair', totalLength: '200 m' });
    expect(lowest(voltages?.cases.typical).favourable).toBeCloseTo(30, 5);
    expect(lowest(voltages?.cases.typical).unfavourable).toBeCloseTo(30 - 14.64 * 0.3, 5);
  });

  it.each([
    ['both bounds hold', 100, 'holds'], // at most 26.5 − 18.3·0.1 = 24.67 V
    ['only the favourable one does', 350, 'undecidable'], // from 20.095 V on
  ])('%s', (_, ma, verdict) => {
    expect(on11([ma - 10, 10], { cable: '0.8 mm pair', farthest: '250 m' })?.verdict).toBe(verdict);
  });

  it('is too low where even the smallest device is', () => {
    expect(on11([310], { cable: '0.8 mm pair', farthest: '250 m', totalLength: '250 m' })?.verdict).toBe(
      'too low', // 20.8 V: it is a single run, and all of it
    );
  });

  it('is not known without any length', () => {
    expect(on11([100], { cable: '0.8 mm pair' })).toBeNull();
  });
});
