import { describe, expect, it } from 'vitest';
import { formatCsvSchedule } from '../../src/report/format/csv-schedule.js';
import { notScheduledOf } from '../../src/report/not-scheduled.js';
import { scheduleOf } from '../../src/report/schedule.js';
import { proposalsOf } from '../../src/sizing/proposals.js';
import { consumer, contextOf, type PlantSpec, supply } from '../support/plants.js';
import { reportOf } from '../support/reports.js';

async function rowsOf(plant: PlantSpec) {
  const context = contextOf(plant);
  return scheduleOf(context, await proposalsOf(context)).map((row) => [
    row.place,
    row.state,
    row.ratedMa,
    row.quantity,
    row.railUnits,
    row.sum,
    row.segments.join(' '),
  ]);
}

const line = (address: string, ratings: readonly number[], loadMa: number, places: readonly string[] = []) => ({
  line: address,
  segments: [[...ratings.map((ma) => ({ ...supply(ma), places })), consumer(1, loadMa)]],
});

describe('the schedule of supplies', () => {
  it('counts alike ones at a place together, and says what becomes of each', async () => {
    const policy = { stock: [{ ratingMa: 1280, kinds: ['plain' as const], railUnits: 8, price: 210.55 }] };
    const lines = [line('1.1', [640], 100), line('1.2', [], 900), line('1.3', [], 900), line('2.1', [960], 900)];
    expect(await rowsOf({ lines, policy })).toEqual([
      ['area 1', 'existing', 640, 1, null, null, '1.1'],
      ['area 1', 'new', 1280, 2, 16, 421.1, '1.2 1.3'],
      ['area 2', 'replacement', 1280, 1, 8, 210.55, '2.1'],
      ['area 2', 'remove', 960, 1, null, null, '2.1'],
    ]);
  });

  it('takes the board of the site sheet before the place in the building', async () => {
    const plant = { lines: [line('1.1', [640], 600, ['House', 'Cellar'])] };
    expect((await rowsOf(plant)).map(([place]) => place)).toEqual(['House / Cellar', 'House / Cellar']);
    const sheet = { supplies: [{ supply: 'Supply', board: 'B1' }] };
    expect((await rowsOf({ ...plant, sheet })).map(([place]) => place)).toEqual(['B1', 'B1']);
  });

  it('puts what is bought where the present supply is: on any board first, else in its place', async () => {
    const segment = [
      { ...supply(160), name: 'One', places: ['Cellar'] },
      { ...supply(160), name: 'Other', places: ['Attic'] },
      consumer(1, 500, { places: ['Hall'] }),
    ];
    const plant = { lines: [{ line: '1.1', segments: [segment] }] };
    const places = async (sheet?: object) => {
      const rows = await rowsOf({ ...plant, ...(sheet && { sheet }) });
      return rows.filter(([, state]) => state === 'new' || state === 'replacement').map(([place]) => place);
    };
    expect(await places()).toEqual(['Cellar']);
    expect(await places({ supplies: [{ supply: 'Other', board: 'B2' }] })).toEqual(['B2']);
  });

  it.each([
    ['most devices of the segment', ['Hall', 'Attic', 'Attic'], 'Attic'],
    ['the first by name of as many', ['Hall', 'Attic', 'Hall', 'Attic'], 'Attic'],
    ['the few that are placed at all', [null, null, 'Hall'], 'Hall'],
    ['the area, where none is placed', [null, null], 'area 1'],
  ])('puts the first supply of a segment where %s are', async (_what, rooms, place) => {
    const devices = rooms.map((room, at) => consumer(at + 1, 10, room === null ? {} : { places: [room] }));
    expect((await rowsOf({ lines: [{ line: '1.1', segments: [devices] }] })).map((row) => row.slice(0, 2))).toEqual([
      [place, 'new'],
    ]);
  });

  it.each([
    ['as the stock has it', [{ orderNumber: 'PS-640', railUnits: 6, price: 90 }], 6],
    ['of no other order number', [{ orderNumber: 'PS-320', railUnits: 4 }], null],
    ['of none without an order number', [{ railUnits: 4 }], null],
    ['not where the stock does not say it', [{ orderNumber: 'PS-640' }], null],
    [
      'once where two entries agree',
      [
        { orderNumber: 'PS-640', railUnits: 6 },
        { orderNumber: 'PS-640', railUnits: 6 },
      ],
      6,
    ],
    [
      'not where two entries differ',
      [
        { orderNumber: 'PS-640', railUnits: 6 },
        { orderNumber: 'PS-640', railUnits: 4 },
      ],
      null,
    ],
  ])('tells the width of a present supply %s, and never a price', async (_what, entries, railUnits) => {
    const stock = entries.map((entry) => ({ ratingMa: 640, kinds: ['plain' as const], ...entry }));
    const segment = [{ ...supply(640), orderNumber: 'PS-640' }, consumer(1, 100)];
    const rows = await rowsOf({ lines: [{ line: '1.1', segments: [segment] }], policy: { stock } });
    expect(rows).toEqual([['area 1', 'existing', 640, 1, railUnits, null, '1.1']]);
  });

  it('counts a supply that feeds two segments once', async () => {
    const lines = [line('1.1', [640], 600), { line: '1.2', segments: [[consumer(1, 20)]] }];
    const sheet = { segments: [{ segment: '1.2', fedBy: ['Supply'] }] };
    expect((await rowsOf({ lines, sheet })).map((row) => row.slice(1))).toEqual([
      ['existing', 640, 1, null, null, '1.1 1.2'],
      ['new', 160, 1, null, null, '1.1 1.2'],
    ]);
  });

  it('is written as a table with a row for each', async () => {
    const report = await reportOf('school');
    const [header, ...rows] = formatCsvSchedule(report).trimEnd().split('\r\n');
    expect(header).toMatch(/^project,installation,place,state,item,ratedMa,kind/);
    expect(rows).toHaveLength(report.schedule.length);
  });
});

describe('what is not scheduled', () => {
  const notScheduled = async (plant: PlantSpec) => {
    const context = contextOf(plant);
    return notScheduledOf(context, await proposalsOf(context));
  };

  it('is a segment that nothing in stock carries, with the reason', async () => {
    const policy = { stock: [{ ratingMa: 640, kinds: ['plain' as const] }] };
    // Two of 640 mA at 80 %: 1024 mA.
    expect(await notScheduled({ lines: [line('1.1', [640], 1024)], policy })).toEqual([]);
    expect(await notScheduled({ lines: [line('1.1', [640], 1024.001)], policy })).toEqual([
      {
        project: 'P-0001',
        installation: 0,
        segments: ['1.1'],
        action: 'split',
        because: expect.stringContaining('carry 1024.001 mA within the target'),
      },
    ]);
  });

  it('is one of which a label decides, but none that wants no power', async () => {
    const lines = [
      { line: '1.1', segments: [[supply(640), { ...supply(), name: 'Old' }, consumer(1, 100)]] },
      { line: '1.2', segments: [[]] },
      { line: '1.3', medium: 'MT-5', segments: [[consumer(1, 100)]] },
    ];
    const [one, ...others] = await notScheduled({ lines });
    expect(others).toEqual([]);
    expect(one).toMatchObject({ segments: ['1.1'], action: 'none' });
  });

  it('tells of segments that share their supplies together', async () => {
    const policy = { stock: [{ ratingMa: 320, kinds: ['plain' as const] }] };
    const lines = [line('1.1', [320], 600), { line: '1.2', segments: [[consumer(1, 600)]] }];
    const sheet = { segments: [{ segment: '1.2', fedBy: ['Supply'] }] };
    expect((await notScheduled({ lines, sheet, policy })).map(({ segments }) => segments)).toEqual([['1.1', '1.2']]);
  });
});

describe('the schedule of a split', () => {
  const board = (name: string, from: number) =>
    Array.from({ length: 55 }, (_, at) => consumer(from + at, 10, { places: ['House', name] }));
  const split = { line: '1.1', segments: [[supply(640), ...board('A', 1), ...board('B', 101)]] };

  it('has the supplies of all pieces, and the couplers, where most of their devices are', async () => {
    expect(await rowsOf({ lines: [split] })).toEqual([
      ['House / A', 'new', 160, 1, null, null, '1.1'],
      ['House / A', 'new', null, 1, null, null, '1.1'],
      ['House / B', 'new', 1280, 1, null, null, '1.2'],
      ['House / B', 'new', null, 1, null, null, '1.2'],
      ['area 1', 'existing', 640, 1, null, null, '1.1'],
      ['area 1', 'new', 160, 1, null, null, '1.0'],
    ]);
  });

  it('is whole', async () => {
    const context = contextOf({ lines: [split] });
    expect(notScheduledOf(context, await proposalsOf(context))).toEqual([]);
  });
});
