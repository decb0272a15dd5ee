import { describe, expect, it } from 'vitest';
import { formatCsvSchedule } from '../../src/report/format/csv-schedule.js';
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
    expect(header).toMatch(/^project,installation,place,state,ratedMa,kind/);
    expect(rows).toHaveLength(report.schedule.length);
  });
});
