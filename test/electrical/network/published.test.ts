import { describe, expect, it } from 'vitest';
import { LEAST_OHM, type Network } from '../../../src/electrical/network/network.js';
import { distributor, feedingPoint, solved } from './small-networks.js';

/**
 * Worked examples as they are printed. M: Mehta, Principles of Power System, chapter 13; T: Theraja, A Textbook of
 * Electrical Technology III, chapter 40; C: Chakrabarti et al., Power System Engineering II, chapter 18. Their feeding
 * points are ideal and take current too.
 */
type Loads = readonly (readonly [amps: number, atM: number])[];

/** Fed at point 0, and at the end where there is a second voltage. */
function fed([first, last]: readonly number[], ohmPerM: number, loads: Loads, lengthM?: number): Network {
  const feeder = distributor(ohmPerM, loads, lengthM);
  const end = last === undefined ? [] : [feedingPoint(feeder.nodes - 1, last)];
  return { ...feeder, sources: [feedingPoint(0, first as number), ...end] };
}

/** Half of the last digit that is printed, and what the micro-ohm of an ideal source drops. */
function expectPrinted(actual: number | undefined, printed: string, { loads }: Network): void {
  const decimals = printed.split('.')[1]?.length ?? 0;
  const amps = loads.reduce((sum, load) => sum + ('amps' in load ? load.amps : 0), 0);
  expect(Math.abs((actual as number) - Number(printed))).toBeLessThanOrEqual(0.5 * 10 ** -decimals + amps * LEAST_OHM);
}

const M13_10 = fed(
  [220, 220],
  3.4e-4,
  [
    [20, 100],
    [40, 250],
    [50, 400],
    [30, 500],
  ],
  600,
);
const M13_11 = fed(
  [230, 235],
  6e-4,
  [
    [25, 50],
    [50, 75],
    [30, 100],
    [40, 150],
  ],
  200,
);
const M13_12 = fed(
  [440, 430],
  2e-4,
  [
    [100, 150],
    [200, 300],
    [250, 350],
    [300, 450],
  ],
  600,
);
const T40_6 = fed(
  [200, 200],
  1e-4,
  [
    [50, 500],
    [100, 1200],
    [150, 1500],
  ],
  1750,
);

/** A ring of 300 m from point 0 back to it: its end is joined to its beginning. */
const OPEN_M13_22 = fed(
  [240],
  6e-4,
  [
    [120, 150],
    [80, 200],
  ],
  300,
);
const M13_22 = { ...OPEN_M13_22, branches: [...OPEN_M13_22.branches, { from: 0, to: 3, ohm: 0 }] };

describe('voltages are as printed', () => {
  it.each<[string, Network, Record<number, string>]>([
    // M13.1: 0.02 Ω/km is the resistance of both conductors.
    [
      'M13.1',
      fed([300], 2e-5, [
        [100, 500],
        [150, 1000],
        [200, 1600],
        [50, 2000],
      ]),
      { 1: '295', 2: '291', 3: '288', 4: '287.6' },
    ],
    [
      'M13.3',
      fed([600], 2.8e-4, [
        [40, 2000],
        [20, 6000],
      ]),
      { 1: '566.4', 2: '544.0' },
    ],
    [
      'M13.4',
      fed([250], 1.32e-3, [
        [12, 75],
        [15, 175],
        [20, 225],
      ]),
      { 1: '245.35', 2: '240.73', 3: '239.41' },
    ],
    ['M13.10', M13_10, { 3: '215.69' }],
    ['M13.11', M13_11, { 2: '228.875' }],
    ['M13.22', M13_22, { 1: '232.2', 2: '233.2' }],
    ['T40.6', T40_6, { 1: '195.6', 2: '192.9', 3: '194.7' }],
    [
      'T40.8',
      fed(
        [255, 250],
        1.7e-4,
        [
          [120, 150],
          [160, 350],
        ],
        500,
      ),
      { 1: '250.13', 2: '247.73' },
    ],
    [
      'T40.10',
      fed(
        [236, 237],
        8e-4,
        [
          [20, 50],
          [40, 75],
          [25, 100],
          [30, 150],
        ],
        200,
      ),
      { 2: '233.18' },
    ],
  ])('%s', (_, network, volts) => {
    const { voltages } = solved(network);
    for (const [node, printed] of Object.entries(volts)) expectPrinted(voltages[Number(node)], printed, network);
  });

  it('M13.10: the least is at 400 m', () => {
    const { voltages } = solved(M13_10);
    expect(voltages.indexOf(Math.min(...voltages))).toBe(3);
  });
});

describe('M13.9, 0.75 A/m along 300 m of 1.8e-4 Ω/m', () => {
  // The load of each 0.1 m at its middle: exact at the ends of the pieces, and of the loss 1 part in 10⁷ less.
  const loads: Loads = Array.from({ length: 3000 }, (_, piece) => [0.075, piece * 0.1 + 0.05]);
  const feeder = distributor(1.8e-4, loads);
  const network: Network = { ...feeder, sources: [feedingPoint(0, 250)] };
  const { voltages, branchAmps } = solved(network);

  it('has 244.6 V at 200 m', () => {
    const halfway = ((voltages[2000] as number) + (voltages[2001] as number)) / 2;
    expectPrinted(halfway, '244.6', network);
  });

  it('loses 911.25 W', () => {
    const lossW = branchAmps.reduce(
      (sum, amps, index) => sum + amps ** 2 * (network.branches[index]?.ohm as number),
      0,
    );
    expectPrinted(lossW, '911.25', network);
  });
});

describe('currents are as printed', () => {
  it.each<[string, Network, readonly string[]]>([
    ['M13.10', M13_10, ['61.7']],
    ['M13.12', M13_12, ['437.5', '412.5']],
    ['T40.6', T40_6, ['88.6', '211.4']],
  ])('%s, of the feeding points', (_, network, amps) => {
    const { sourceAmps } = solved(network);
    for (const [index, printed] of amps.entries()) expectPrinted(sourceAmps[index], printed, network);
  });

  it('M13.11, of the sections', () => {
    const { branchAmps } = solved(M13_11);
    for (const [index, printed] of ['33.33', '8.33', '-41.67', '-71.67', '-111.67'].entries()) {
      expectPrinted(branchAmps[index], printed, M13_11);
    }
  });

  it('C18.1, of five sources on one point', () => {
    const sources = (
      [
        [225, 5],
        [210, 1],
        [230, 1],
        [230, 2],
        [240, 2],
      ] as const
    ).map(([emfV, ohm]) => {
      return { ...feedingPoint(0, emfV), ohm };
    });
    const { voltages, sourceAmps, sourceStates } = solved({ nodes: 1, branches: [], sources, loads: [] });
    expect(voltages[0]).toBeCloseTo(225, 9);
    for (const [index, amps] of [0, -15, 5, 2.5, 7.5].entries()) expect(sourceAmps[index]).toBeCloseTo(amps, 9);
    expect(new Set(sourceStates)).toEqual(new Set(['feeding']));
  });
});
