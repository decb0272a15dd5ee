import { describe, expect, it } from 'vitest';
import { applyChanges } from '../../src/changes/apply.js';
import { readChanges } from '../../src/changes/changes.js';
import type { LineRecord, ProjectRecord } from '../../src/interchange/records.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import type { Policy } from '../../src/policy/policy.js';
import { consumer, type PlantSpec, recordOf, supply } from '../support/plants.js';
import { refusalOf } from '../support/refusal.js';

async function made(plants: PlantSpec | readonly ProjectRecord[], changes: unknown, policy: Partial<Policy> = {}) {
  const records = 'lines' in plants ? [recordOf(plants)] : plants;
  const read = await readChanges(JSON.stringify({ changes }), 'changes.yaml');
  return applyChanges(records, read, { ...COMMON_PRACTICE, ...policy });
}

const fault = async (...given: Parameters<typeof made>) => (await refusalOf(() => made(...given))).detail;

function lineOf({ records }: Awaited<ReturnType<typeof made>>, index = 0): LineRecord {
  const line = records[0]?.installations[0]?.areas[index]?.lines[0];
  if (line === undefined) throw new Error('no line');
  return line;
}

const button = (ma = 5, more = {}) => consumer(1, ma, { product: `PB${ma}`, orderNumber: `B-${ma}`, ...more });

const NEW: PlantSpec = { lines: [{ line: '1.1', segments: [[supply(320), button(), button(), button()]] }] };
const TWO: PlantSpec = { lines: [{ line: '1.1', segments: [[button()], [button(), button()]], devices: [button()] }] };
const OLD: PlantSpec = { schema: 14, lines: [{ line: '1.1', devices: [supply(320), button()] }] };

describe('what comes', () => {
  it.each([
    ['order number', 'B-5'],
    ['name', 'Product PB5'],
    ['id', 'M-F0A1_H-PB5-1_P-PB5'],
  ])('is found by %s', async (_what, product) => {
    const { records } = await made(NEW, [{ line: '1.1', add: 2, product }]);
    const [segment] = lineOf({ records, applied: [] }).segments;
    expect(segment?.devices.map(({ productRef }) => productRef).slice(-2)).toEqual(
      Array.from({ length: 2 }, () => 'M-F0A1_H-PB5-1_P-PB5'),
    );
    expect(segment?.devices.length).toBe(6);
  });

  it('stands on the segment that is named, all of several entries, each with an id of its own', async () => {
    const found = await made(TWO, [
      { line: '1.1', segment: 2, add: 2, product: 'B-5' },
      { line: 'P-0001-0_L-0', segment: 2, add: 1, product: 'B-5' },
    ]);
    const { segments, devices } = lineOf(found);
    expect([devices.length, ...segments.map((one) => one.devices.length)]).toEqual([1, 1, 5]);
    expect(new Set(segments[1]?.devices.map(({ id }) => id)).size).toBe(5);
    expect(found.applied.map(({ label }) => label)).toEqual(['1.1 segment 2', '1.1 segment 2']);
  });

  it('stands on the line itself in the old form', async () => {
    const { segments, devices } = lineOf(await made(OLD, [{ line: '1.1', add: 3, product: 'B-5' }]));
    expect([segments.length, devices.length]).toEqual([0, 5]);
  });

  it('brings a product of its own by a current, and a supply by a rating', async () => {
    const { records } = await made(NEW, [
      { line: '1.1', add: 1, current: '12.5 mA', what: 'panel' },
      { line: '1.1', supply: '640 mA' },
    ]);
    const devices = lineOf({ records, applied: [] }).segments[0]?.devices.slice(-2) ?? [];
    const products = devices.map(({ productRef }) => records[0]?.products.get(productRef ?? ''));
    expect(products).toMatchObject([
      { name: 'panel', hardware: { busCurrent: '12.5', isPowerSupply: false }, place: { part: 'changes' } },
      { hardware: { busCurrent: '640', isPowerSupply: true, hasIndividualAddress: false } },
    ]);
  });

  it('is where the building has a place of the name, else in a new one', async () => {
    const plant = { lines: [{ line: '1.1', segments: [[button(5, { places: ['House', 'Hall'] })]] }] };
    const { records, applied } = await made(plant, [
      { line: '1.1', add: 1, product: 'B-5', location: 'Hall' },
      { line: '1.1', add: 1, product: 'B-5', location: 'Attic' },
    ]);
    expect(applied.map(({ place }) => place)).toEqual([
      { path: 'House / Hall', isNew: false },
      { path: 'Attic', isNew: true },
    ]);
    const places = records[0]?.installations[0]?.places;
    expect(applied.map(({ devices: [id = ''] }) => places?.get(id)?.name)).toEqual(['House / Hall', 'Attic']);
  });

  it('leaves what is not named as it is', async () => {
    const record = recordOf({ lines: [...NEW.lines, { line: '1.2', segments: [[button()]] }] });
    const found = await made([record], [{ line: '1.1', add: 1, product: 'B-5' }]);
    expect(lineOf(found, 1)).toBe(record.installations[0]?.areas[1]?.lines[0]);
  });
});

describe('what goes', () => {
  it('are the last of those that are alike, taken from what the archive has', async () => {
    const before = recordOf(NEW).installations[0]?.areas[0]?.lines[0]?.segments[0]?.devices.map(({ id }) => id) ?? [];
    const found = await made(NEW, [
      { line: '1.1', add: 1, product: 'B-5' },
      { line: '1.1', remove: 1, product: 'B-5' },
      { line: '1.1', remove: 1, product: 'Product PB5' },
    ]);
    expect(lineOf(found).segments[0]?.devices.map(({ id }) => id)).toEqual([...before.slice(0, 2), 'change 1.1']);
    expect(found.applied.slice(1).map(({ devices }) => devices)).toEqual([[before[3]], [before[2]]]);
  });

  it('is only what is in the place that is named', async () => {
    const plant = { lines: [{ line: '1.1', segments: [[button(5, { places: ['Hall'] }), button()]] }] };
    const { applied } = await made(plant, [{ line: '1.1', remove: 1, product: 'B-5', location: 'Hall' }]);
    expect(applied[0]?.devices).toEqual(['P-0001-0_DI-1']);
    expect(await fault(plant, [{ line: '1.1', remove: 2, product: 'B-5', location: 'Hall' }])).toBe(
      'changes[0].remove: 2 of "B-5" cannot go from 1.1 in "Hall": there are 1',
    );
  });

  it('may stand beside the only segment of a line', async () => {
    const plant = { lines: [{ line: '1.1', segments: [[supply(320)]], devices: [button()] }] };
    expect(lineOf(await made(plant, [{ line: '1.1', remove: 1, product: 'B-5' }])).devices).toEqual([]);
  });

  it('may be of a product that the archive does not hold', async () => {
    const plant = { lines: [{ line: '1.1', segments: [[button(5, { unknown: true })]] }] };
    const found = await made(plant, [{ line: '1.1', remove: 1, product: 'M-F0A1_H-PB5-1_P-PB5' }]);
    expect(lineOf(found).segments[0]?.devices).toEqual([]);
  });

  it('is as many as there are, and not one more', async () => {
    expect((await made(NEW, [{ line: '1.1', remove: 3, product: 'B-5' }])).applied[0]?.devices.length).toBe(3);
    expect(await fault(NEW, [{ line: '1.1', remove: 4, product: 'B-5' }])).toBe(
      'changes[0].remove: 4 of "B-5" cannot go from 1.1: there are 3',
    );
    const twice = [
      { line: '1.1', remove: 3, product: 'B-5' },
      { line: '1.1', remove: 1, product: 'B-5' },
    ];
    expect(await fault(NEW, twice)).toBe('changes[1].remove: 1 of "B-5" cannot go from 1.1: there is none');
  });
});

describe('several products of one name', () => {
  const alike = (ma: number, more = {}) => [
    consumer(1, 5, { product: 'A', orderNumber: 'B-1' }),
    consumer(2, ma, { product: 'B', orderNumber: 'B-1', ...more }),
  ];
  const plant = (ma: number, more = {}) => ({ lines: [{ line: '1.1', segments: [alike(ma, more)] }] });
  const change = [{ line: '1.1', add: 1, product: 'B-1' }];

  it('that are one to the balance are one', async () => {
    expect((await made(plant(5), change)).applied[0]?.devices.length).toBe(1);
    expect((await made(plant(5), [{ line: '1.1', remove: 2, product: 'B-1' }])).applied[0]?.devices.length).toBe(2);
  });

  it.each([
    ['draw', 6, {}],
    ['are', 5, { is: { isCoupler: true } }],
  ])('that differ in what they %s are told', async (_what, ma, more) => {
    expect(await fault(plant(ma, more), change)).toBe(
      `changes[0].product: "B-1" can be any of "M-F0A1_H-A-1_P-A" (5 mA declared), "M-F0A1_H-B-1_P-B" (${ma} mA declared); name the product by its id`,
    );
  });

  it('that a policy makes one are one, and that it tells apart are not', async () => {
    const one = { products: [{ orderNumber: 'B-1', currentMa: 7, note: 'a data sheet' }] };
    expect((await made(plant(6), change, one)).applied.length).toBe(1);
    const other = { products: [{ id: 'M-F0A1_H-A-1_P-A', currentMa: 7, note: 'a data sheet' }] };
    expect(await fault(plant(5), change, other)).toContain('"M-F0A1_H-A-1_P-A" (7 mA overridden)');
  });
});

describe('changes that do not fit are refused', () => {
  const PLANT: PlantSpec = {
    lines: [
      { line: '1.1', segments: [[button()], [button()]] },
      { line: '1.2', medium: 'MT-2', segments: [[]] },
      {
        line: '1.3',
        schema: 14,
        devices: [button(5, { places: ['West', 'Hall'] }), button(5, { places: ['East', 'Hall'] })],
      },
    ] as PlantSpec['lines'],
  };

  it.each<[string, object, string]>([
    [
      'a line',
      { line: '1.4', add: 1, product: 'B-5' },
      'changes[0].line: "1.4" is no line of the archive; nearest: "1.1", "1.2", "1.3"',
    ],
    [
      'the segment that is left out',
      { line: '1.1', add: 1, product: 'B-5' },
      'changes[0].segment: the line has the segments 1, 2; name one of them',
    ],
    [
      'a segment',
      { line: '1.1', segment: 3, add: 1, product: 'B-5' },
      'changes[0].segment: the line has no segment 3 but 1, 2',
    ],
    [
      'a segment of the old form',
      { line: '1.3', segment: 1, add: 1, product: 'B-5' },
      'changes[0].segment: the line has no segments that can be named; leave it out',
    ],
    [
      'a medium',
      { line: '1.2', add: 1, product: 'B-5' },
      'changes[0].line: "1.2" is on the medium radio, which carries no bus power',
    ],
    [
      'a product',
      { line: '1.3', add: 1, product: 'B-6' },
      'changes[0].product: "B-6" is no product of the archive; nearest: "B-5"',
    ],
    [
      'a place',
      { line: '1.3', add: 1, product: 'B-5', location: 'Hall' },
      'changes[0].location: "Hall" can be any of "West / Hall", "East / Hall"; write more of the path',
    ],
  ])('for %s', async (_what, change, says) => {
    expect(await fault(PLANT, [change])).toBe(says);
  });

  it('all together', async () => {
    const wrong = [
      { line: '2.1', add: 1, product: 'B-5' },
      { line: '1.3', add: 1, product: 'none of them' },
    ];
    expect(await fault(PLANT, wrong)).toBe(
      'changes[0].line: "2.1" is no line of the archive; nearest: "1.1"; changes[1].product: "none of them" is no product of the archive',
    );
  });

  it('for a line of several projects, which its id would tell apart', async () => {
    const records = [recordOf(OLD), recordOf(OLD)];
    expect(await fault(records, [{ line: '1.1', add: 1, product: 'B-5' }])).toBe(
      'changes[0].line: "1.1" can be any of "P-0001-0_L-0", "P-0001-0_L-0"; name the line by its id',
    );
  });
});
