import { afterEach, describe, expect, it, vi } from 'vitest';
import { formatXlsxSchedule } from '../../src/report/format/xlsx-schedule.js';
import { CAUTION, type Report } from '../../src/report/report.js';
import type { ScheduleRow } from '../../src/report/schedule-shape.js';
import { HOSTILE, hostileReport, reportOf } from '../support/formats.js';
import { needsPython } from '../support/python.js';
import { type ReadSheet, readWorkbook, valuesOf } from '../support/xlsx.js';

/** The schedule as a workbook, read back by Python's own library; see `test/support/xlsx.ts` for the standard. */

const ARCHIVE = { archive: 'plans/school.bin' };

async function sheetsOf(report: Report): Promise<[supplies: ReadSheet, basis: ReadSheet]> {
  const { sheets } = readWorkbook(await formatXlsxSchedule(report, ARCHIVE));
  const [supplies, basis, ...more] = sheets;
  if (supplies === undefined || basis === undefined || more.length > 0) throw new Error(`${sheets.length} sheets`);
  return [supplies, basis];
}

const ROW: ScheduleRow = {
  project: 'P-01D4',
  installation: 0,
  place: 'B1',
  state: 'new',
  item: 'supply',
  ratedMa: 640,
  kind: 'plain',
  orderNumber: '00640',
  quantity: 3,
  railUnits: 0.3,
  price: 0.1,
  sum: 0.3,
  segments: ['1.1', '1.2'],
};

afterEach(() => {
  vi.useRealTimers();
});

describe('the workbook of a schedule', () => {
  it('has the rows of the report under a bold header that stays in sight', async (context) => {
    needsPython(context);
    const report = await reportOf('school');
    const [supplies, basis] = await sheetsOf(report);
    expect([supplies.name, basis.name]).toEqual(['Supplies', 'Basis']);
    for (const { panes, rows } of [supplies, basis]) {
      expect(panes).toEqual([['frozen', '1', 'A2']]);
      expect(rows[0]?.every((cell) => cell?.isBold)).toBe(true);
      expect(rows[1]?.some((cell) => cell?.isBold)).toBe(false);
    }
    const rows = valuesOf(supplies).slice(1, 1 + report.schedule.length);
    const name = report.projects[0]?.name;
    expect(rows).toEqual(
      report.schedule.map((row) => [
        ...[name, row.installation, row.place, row.state, row.item, row.ratedMa, row.kind, row.orderNumber],
        ...[row.quantity, row.railUnits, row.price, row.sum, row.segments.join('; ')],
      ]),
    );
    expect(rows.length).toBeGreaterThan(5);
  });

  it('has numbers as numbers, money with two digits, and order numbers as text with their zeros', async (context) => {
    needsPython(context);
    const [supplies] = await sheetsOf({ ...(await reportOf('house')), schedule: [ROW], notScheduled: [] });
    const [, row] = supplies.rows;
    expect(row?.map((cell) => [cell?.value, cell?.format])).toEqual([
      ...[
        ['Tansy Row 7', '@'],
        [0, '0'],
        ['B1', '@'],
        ['new', '@'],
        ['supply', '@'],
        [640, null],
        ['plain', '@'],
        ['00640', '@'],
      ],
      ...[
        [3, '0'],
        [0.3, null],
        [0.1, '#,##0.00'],
        [0.3, '#,##0.00'],
        ['1.1; 1.2', '@'],
      ],
    ]);
  });

  it('adds up what is ordered, what stays and what goes, and says where a part is not known', async (context) => {
    needsPython(context);
    const schedule: ScheduleRow[] = [
      ROW,
      { ...ROW, state: 'replacement', quantity: 1, railUnits: 0.1, sum: 0.1 },
      { ...ROW, state: 'existing', quantity: 2, railUnits: 8, price: null, sum: null },
      { ...ROW, state: 'existing', quantity: 4, railUnits: null, price: null, sum: null },
      { ...ROW, state: 'remove', quantity: 1, railUnits: null, price: null, sum: null },
      { ...ROW, item: 'coupler', kind: null, ratedMa: null, quantity: 2, railUnits: null, price: null, sum: null },
    ];
    const totals = async (rows: ScheduleRow[]) => {
      const [supplies] = await sheetsOf({ ...(await reportOf('house')), schedule: rows, notScheduled: [] });
      const found = supplies.rows.slice(1 + rows.length);
      expect(found.flat().every((cell) => cell === null || cell.isBold)).toBe(true);
      return found.map((row) => [0, 4, 8, 9, 11].map((at) => row[at]?.value ?? null));
    };
    expect(await totals(schedule)).toEqual([
      ['To order', 'supply', 4, 0.4, 0.4],
      ['To order', 'coupler', 2, 'not known', 'not known'],
      ['Stay', 'supply', 6, 'at least 8, not known of 4', null],
      ['To take out', 'supply', 1, 'not known', null],
    ]);
    expect(await totals([ROW, { ...ROW, quantity: 2, price: null, sum: null }])).toEqual([
      ['To order', 'supply', 5, 0.6, 'at least 0.3, not known of 2'],
    ]);
    expect(await totals([])).toEqual([]);
  });

  it('says on both sheets that it is not whole, and why', async (context) => {
    needsPython(context);
    const report = await reportOf('school');
    const [supplies, basis] = await sheetsOf(report);
    expect(valuesOf(supplies).at(-1)).toEqual(['Not whole: 1 segment not scheduled, see Basis']);
    expect(valuesOf(basis).filter(([what]) => what === 'Not scheduled')).toEqual(
      report.notScheduled.map((one) => ['Not scheduled', one.segments.join('; '), one.because]),
    );
    const [whole] = await sheetsOf({ ...report, notScheduled: [] });
    expect(valuesOf(whole).flat().join()).not.toContain('Not whole');
    const [failed] = await sheetsOf({ ...report, summary: { ...report.summary, complete: false } });
    expect(valuesOf(failed).at(-1)).toEqual(['Not whole: a rule failed by a fault of this tool']);
  });

  it('names what the figures rest on, each condition once', async (context) => {
    needsPython(context);
    const report = await reportOf('school');
    const [first, second, ...others] = report.segments;
    if (first === undefined || second === undefined) throw new Error('the school lacks segments');
    const conditions = ['mind the choke', 'and the board'];
    const shared = [
      { ...first, proposal: { ...first.proposal, with: [second.id], conditions } },
      { ...second, proposal: { ...second.proposal, with: [first.id], conditions } },
    ];
    const bare = others.map((one) => ({ ...one, proposal: { ...one.proposal, conditions: [] } }));
    const [, basis] = await sheetsOf({ ...report, segments: [...shared, ...bare] });
    const told = valuesOf(basis);
    expect(told.filter(([what]) => what === 'Condition')).toEqual(
      conditions.map((one) => ['Condition', `${first.label}; ${second.label}`, one]),
    );
    const says = new Map(told.map(([what, , text]) => [what, text]));
    expect(says.get('Caution')).toBe(CAUTION);
    expect(says.get('Policy')).toBe('common-practice');
    expect(says.get('Policy SHA-256')).toBe(report.policy.sha256);
    expect(says.get('Archive')).toBe(ARCHIVE.archive);
    expect(says.get('Archive SHA-256')).toBe(report.archive.sha256);
    expect(says.get('Site SHA-256')).toBe('no site sheet was given');
    expect(says.get('Tool')).toBe(`${report.tool.name} ${report.tool.version}`);
  });

  it.for(['=1+1', '+1', '-1', '@SUM(A1)', '_x0041_', 'constructor', '__proto__', '&<a>"', ' a '])(
    'keeps %j as a text',
    async (text, context) => {
      needsPython(context);
      const [supplies] = await sheetsOf({ ...(await reportOf('house')), schedule: [{ ...ROW, place: text }] });
      const { value, format } = supplies.rows[1]?.[2] ?? {};
      expect([String(value).trim(), format]).toEqual([text.trim(), '@']); // a blank more is not seen
    },
  );

  it('holds a hostile text, but for what does not print', async (context) => {
    needsPython(context);
    const [supplies] = await sheetsOf(await hostileReport());
    const place = String(supplies.rows[1]?.[2]?.value);
    expect(place).toBe(HOSTILE.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, ' '));
  });

  it('cuts a text that no cell takes', async (context) => {
    needsPython(context);
    const [supplies] = await sheetsOf({
      ...(await reportOf('house')),
      schedule: [{ ...ROW, place: '🔌'.repeat(16_384) }],
    });
    const place = String(supplies.rows[1]?.[2]?.value);
    expect([place.length <= 32_767, place.endsWith('🔌…')]).toEqual([true, true]);
  });

  it('is the same at any time and in any time zone, and knows neither', async (context) => {
    needsPython(context);
    const report = await reportOf('school');
    const zone = process.env.TZ;
    const written: Buffer[] = [];
    for (const [now, tz] of [
      ['2027-03-31T10:00:00Z', 'UTC'],
      ['2041-12-31T23:59:59Z', 'Pacific/Auckland'],
      ['1999-01-01T00:00:00Z', 'America/St_Johns'],
    ] as const) {
      vi.useFakeTimers({ now: new Date(now), toFake: ['Date'] });
      process.env.TZ = tz;
      written.push(Buffer.from(await formatXlsxSchedule(report, ARCHIVE)));
    }
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
    expect(written.every((one) => one.equals(written[0] as Buffer))).toBe(true);
    const { times, parts } = readWorkbook(written[0] as Buffer);
    expect(times).toEqual(['(1980, 1, 1, 12, 0, 0)']);
    expect(parts.filter((name) => name.startsWith('docProps'))).toEqual([]);
  });
});
