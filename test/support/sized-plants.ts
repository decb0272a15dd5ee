import type { Policy } from '../../src/policy/policy.js';
import {
  choke,
  combined,
  consumer,
  consumers,
  coupler,
  type DeviceSpec,
  type LineSpec,
  type PlantSpec,
  supply,
} from './plants.js';
import { BOUNDS_UNKNOWN } from './rules.js';

/** Plants that have everything said of their supplies, each named by what there is to say. */

const line = (address: string, ...devices: readonly DeviceSpec[]): LineSpec => ({ line: address, segments: [devices] });

const on = (board: string, count: number, from: number, ma = 10): DeviceSpec[] =>
  Array.from({ length: count }, (_, at) => consumer(from + at, ma, { places: ['Haus', board] }));

/** 1100 mA on two boards, where the greatest supply in stock carries 1024. */
const TOO_MUCH = [...on('A', 60, 1), ...on('B', 50, 101)];
const HEAVY = [coupler(8), supply(640), ...TOO_MUCH];
const MAIN = line('1.0', supply(320), consumer(1, 20));

const fed = (ratings: readonly (number | undefined)[], ...currents: readonly number[]): DeviceSpec[] => [
  ...ratings.map((ma) => supply(ma)),
  ...currents.map((ma, at) => consumer(at + 1, ma)),
];

const segment = (of: string, entry: object) => ({ sheet: { segments: [{ segment: of, ...entry }] } });
const stock = (...entries: Policy['stock']) => ({ policy: { stock: entries } });
const grown = (reserveMa: number, address = '1.*') => ({
  policy: { growth: [{ line: address, devices: 1, reserveMa }] },
});

const lines = (...devices: readonly (readonly DeviceSpec[])[]) => ({
  lines: devices.map((of, at) => line(`1.${at + 1}`, ...of)),
});

/** Lines of the area beside 1.1 and as many that are free. */
const taken = (free: number) => Array.from({ length: 14 - free }, (_, at) => line(`1.${at + 2}`, coupler(8)));

const CHOICES: Readonly<Record<string, PlantSpec>> = {
  'what is ordered, added, replaced and taken out': {
    lines: [
      line('1.1', consumer(1, 100.5)),
      line('1.2', ...fed([640], 512.001)),
      line('1.3', ...fed([160, 160, 640], 300)),
      line('1.4', ...fed([320], 900)),
      { line: '2.1', segments: [fed([640], 513), [consumer(65, 7.5)]] },
    ],
    ...stock(
      { ratingMa: 160, kinds: ['plain'], orderNumber: 'B-160', price: 90.15, railUnits: 4.5 },
      { ratingMa: 320, kinds: ['plain', 'reporting'], price: 125 },
      { ratingMa: 640, kinds: ['reporting'], railUnits: 6 },
      { ratingMa: 1280, kinds: ['plain'], price: 310, railUnits: 8 },
    ),
  },
  'a critical segment': { ...lines(fed([640], 100), fed([], 10)), ...segment('1.1', { critical: true }) },
  'redundant supplies': {
    ...lines(fed([], 100)),
    ...segment('1.1', { critical: true }),
    ...stock({ ratingMa: 640, kinds: ['redundant'] }),
  },
  'what is too much for a critical segment': { ...lines(fed([], 640.001)), ...segment('1.1', { critical: true }) },
  'what is too much for reporting supplies': { ...lines(fed([], 1100)), ...segment('1.1', { monitoring: true }) },
  'more than a comment takes': lines(...Array.from({ length: 14 }, () => fed([160], 28.5, 110))),
  'what is planned': { ...lines(fed([160], 100)), ...grown(30.5) },
  'shared supplies': {
    lines: [
      line('1.1', { ...supply(640), name: 'Eins' }, { ...supply(320), name: 'Zwei' }, consumer(1, 500)),
      line('1.2', consumer(1, 400)),
    ],
    ...segment('1.2', { fedBy: ['Eins', 'Zwei'] }),
  },
  'supplies that are shared in part': {
    lines: [
      line('1.1', { ...supply(640), name: 'Eins' }, { ...supply(320), name: 'Zwei' }, consumer(1, 500)),
      line('1.2', consumer(1, 400)),
    ],
    ...segment('1.2', { fedBy: ['Eins'] }),
  },
  'a supply that is not rated, beside too much load': lines(fed([undefined, 160], 400)),
  'a label that decides': lines(fed([undefined, 640], 100)),
  'decentral supplies and a coupler that feeds': {
    lines: [line('1.1', ...fed([80, 80], 300)), line('1.2', combined(320), consumer(1, 400))],
  },
};

const cable = (...arms: readonly (readonly [lengthM: number, devices: readonly string[]])[]) => ({
  cable: '0.8 mm pair',
  runs: arms.map(([lengthM], at) => ({ from: 'p0', to: `p${at + 1}`, length: `${lengthM} m` })),
  places: [{ at: 'p0', devices: ['Supply'] }, ...arms.map(([, devices], at) => ({ at: `p${at + 1}`, devices }))],
});

const VOLTAGES: Readonly<Record<string, PlantSpec>> = {
  'a second supply far away': { ...lines(fed([640], 300)), ...segment('1.1', cable([400, ['1.1.1']])) },
  'a choke that is shared': {
    ...lines(fed([640], 0)),
    ...segment('1.1', { ...cable([199.9, ['1.1.1']]), auxiliaryLoad: '513 mA' }),
  },
  'voltages that are too low with every choice': {
    ...lines(fed([640], 150, 150, 150)),
    ...segment('1.1', cable([900, ['1.1.1']], [900, ['1.1.2']], [900, ['1.1.3']])),
  },
  'a voltage that is open': { ...lines(fed([640], 300)), ...segment('1.1', { totalLength: '900 m' }) },
};

const NOTHING: Readonly<Record<string, PlantSpec>> = {
  'a medium without power': { lines: [{ line: '1.1', medium: 'MT-2', segments: [fed([], 10)] }] },
  'bounds that are not known': BOUNDS_UNKNOWN,
  'no load': lines([supply(640)]),
  'a choke without a supply': lines([choke(), consumer(1, 10)]),
  'nine decentral supplies': lines(fed(Array(9).fill(80), 10)),
  'seventeen central supplies': lines(fed(Array(17).fill(160), 10)),
  'three couplers that are supplies': lines([combined(320), combined(320, 1), combined(320, 2), consumer(9, 10)]),
  'a coupler of unknown rating': lines([combined(), consumer(1, 10)]),
  'a decentral supply that does not report': { ...lines(fed([80, 640], 100)), ...segment('1.1', { monitoring: true }) },
  'a coupler that does not report': {
    ...lines([
      { ...combined(640), is: { isPowerSupply: true, isCoupler: true, hasIndividualAddress: false } },
      consumer(1, 10),
    ]),
    ...segment('1.1', { monitoring: true }),
  },
  'a stock of which nothing reports': {
    ...lines(fed([], 100)),
    ...segment('1.1', { monitoring: true }),
    ...stock({ ratingMa: 640, kinds: ['plain'] }),
  },
};

const SPLITS: Readonly<Record<string, PlantSpec>> = {
  'a split': { lines: [MAIN, line('1.1', ...HEAVY)] },
  'a split with no sheet of its cable': {
    lines: [MAIN, line('1.1', ...HEAVY)],
    ...segment('1.0', { critical: false }),
  },
  'a split that tears boards apart': { lines: [MAIN, line('1.1', coupler(8), ...on('A', 100, 1, 17))] },
  'a split with devices that have no free address': {
    lines: [
      MAIN,
      line('1.1', ...HEAVY.slice(0, 2), ...on('B', 1, 101), { ma: 10, places: ['Haus', 'B'] }, ...TOO_MUCH),
    ],
  },
  'a split that is not proved': {
    lines: [MAIN, line('1.1', coupler(8), supply(640), supply(640), ...on('A', 63, 1), ...on('B', 47, 101, 10.5))],
    ...stock({ ratingMa: 320, kinds: ['plain'] }),
  },
  'a new main line': { lines: [line('1.1', ...TOO_MUCH)] },
  'a new main line that is too much': { lines: [line('1.1', ...TOO_MUCH)], ...grown(1200, '1.0') },
  'a line above that gets too little': {
    lines: [line('1.0', supply(160), consumer(1, 118)), line('1.1', ...HEAVY)],
  },
  'an IP line above': {
    lines: [{ line: '1.0', medium: 'MT-5', segments: [[]] }, line('1.1', coupler(12, 0, true), ...HEAVY.slice(1))],
  },
  'a split main line': {
    lines: [
      line('1.0', supply(640), ...on('A', 50, 1), ...on('B', 52, 101)),
      line('1.1', coupler(8), supply(160), consumer(1, 10)),
    ],
  },
  'a coupler on another segment of the line': {
    lines: [{ line: '1.1', segments: [fed([640], 490), [supply(640), { ...coupler(6), address: 255 }, ...TOO_MUCH]] }],
  },
  'more devices than a segment may have': { lines: [MAIN, line('1.1', supply(640), coupler(1), ...consumers(256, 1))] },
  'a split with wishes and what is planned': {
    lines: [MAIN, line('1.1', coupler(8), ...TOO_MUCH)],
    sheet: { segments: [{ segment: '1.1', critical: true, planned: [{ devices: 2, current: '20 mA' }] }] },
  },
};

const UNSPLIT: Readonly<Record<string, PlantSpec>> = {
  'no free address': { lines: [MAIN, line('1.1', ...HEAVY), ...taken(0)] },
  'too few free addresses': { lines: [MAIN, line('1.1', coupler(8), ...consumers(200, 10)), ...taken(1)] },
  'a device that draws too much': { lines: [MAIN, line('1.1', coupler(8), consumer(1, 1500))] },
  'a radio line above': { lines: [{ line: '1.0', medium: 'MT-2', segments: [[]] }, line('1.1', ...HEAVY)] },
  'no line above': { lines: [line('1.1', ...HEAVY), line('2.1', coupler(8))] },
  'too many devices on a segment': { lines: [MAIN, line('1.1', coupler(8), ...consumers(512, 4))] },
  'too many devices together': {
    lines: [MAIN, ...Array.from({ length: 40 }, (_, at) => line(`${at + 1}.1`, ...consumers(300, 10)))].slice(1),
  },
  'shared supplies and too much load': {
    lines: [
      MAIN,
      line('1.1', coupler(8), { ...supply(640), name: 'Eins' }, ...TOO_MUCH),
      line('1.2', coupler(8), consumer(1, 10)),
    ],
    ...segment('1.2', { fedBy: ['Eins'] }),
  },
  'too much that is planned': { lines: [MAIN, line('1.1', ...HEAVY)], ...grown(1100) },
  'too much planned for new lines alone': {
    lines: [MAIN, line('1.1', ...HEAVY)],
    policy: {
      growth: Array.from({ length: 14 }, (_, at) => ({ line: `1.${at + 2}`, devices: 0, reserveMa: 1100 })),
    },
  },
  'more that cannot be moved than a segment may have': {
    lines: [
      line('1.0', supply(640), ...consumers(15, 80)),
      ...Array.from({ length: 12 }, (_, at) => line(`1.${at + 1}`, coupler(8), supply(160))),
    ],
    policy: { devicesClassic: 10 },
  },
  'no place beside a coupler': { lines: [MAIN, line('1.1', ...HEAVY)], policy: { devicesClassic: 1 } },
  'couplers of new lines that are too much': {
    lines: [
      line('1.0', ...consumers(12, 30)),
      ...Array.from({ length: 6 }, (_, at) => line(`1.${at + 1}`, coupler(40), supply(160))),
    ],
    ...stock({ ratingMa: 160, kinds: ['plain'] }),
  },
};

const LEAVING = fed([160], 28.5, 110);
const IN_THE_HALL = { places: ['Haus', 'Saal'] };
const near = (place: string) => [supply(320), consumer(1, 1, { places: ['Haus', ...place.split(' / ')] })];
const off = (place: string) => [
  supply(160),
  ...[28.5, 110].map((ma, at) => consumer(at + 1, ma, { places: ['Haus', ...place.split(' / ')] })),
];

const MOVES: Readonly<Record<string, PlantSpec>> = {
  'a move to the same room': lines(off('Erdgeschoss / Saal'), near('Erdgeschoss / Saal')),
  'a move to the same floor': lines(off('Erdgeschoss / Saal'), near('Erdgeschoss')),
  'a move within a line': {
    lines: [{ line: '1.1', segments: [off('Saal'), [supply(320), consumer(200, 1, { places: ['Haus', 'Saal'] })]] }],
  },
  'moves from several lines': lines(near('Saal'), off('Saal'), off('Saal'), off('Saal')),
  'moves from two lines': lines(near('Saal'), off('Saal'), off('Saal')),
  'a move that is only electrically possible': {
    ...lines(LEAVING, fed([320], 1)),
    ...stock({ ratingMa: 25, kinds: ['plain'] }),
  },
  'a move of assumed currents': lines(
    [supply(160), consumer(1, 120), ...[2, 3].map((address) => ({ address, places: ['Haus', 'Saal'] }))],
    near('Saal'),
  ),
  'a move that makes a segment large': {
    ...lines(off('Saal'), [...near('Saal'), consumer(2, 1), consumer(3, 1), consumer(4, 1)]),
    policy: { devicesClassic: 3, devicesGreatest: 6 },
  },
  'a move to a segment with a sheet': {
    ...lines([supply(160), ...off('Saal'), consumer(9, 30)], near('Saal')),
    sheet: {
      segments: [
        { segment: '1.1', critical: true },
        {
          segment: '1.2',
          cable: '0.8 mm pair',
          totalLength: '100.5 m',
          farthest: '90.5 m',
          holdUp: { time: '4 h' },
        },
      ],
    },
  },
  'a move that might be smaller': lines(
    [supply(640), ...[100.001, 90, ...Array(15).fill(30.001)].map((ma, at) => consumer(at + 1, ma, IN_THE_HALL))],
    [supply(640), consumer(1, 357, IN_THE_HALL)],
  ),
};

export const SIZED_PLANTS: readonly (readonly [what: string, plant: PlantSpec])[] = Object.entries({
  ...CHOICES,
  ...VOLTAGES,
  ...NOTHING,
  ...SPLITS,
  ...UNSPLIT,
  ...MOVES,
});
