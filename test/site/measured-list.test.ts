import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { type Documents, readGiven } from '../../src/given.js';
import { formatCsvSiteCheck } from '../../src/report/format/csv-site-check.js';
import type { Report } from '../../src/report/report.js';
import { readMeasured } from '../../src/site/measured-list.js';
import { readSheet } from '../../src/site/sheet.js';
import { emptySheet, withMeasured } from '../../src/site/with-measured.js';
import { fixtureArchive } from '../support/archives.js';
import { reportOf } from '../support/formats.js';
import { refusalOf } from '../support/refusal.js';
import { filledIn, HOUSE_SHEET, type ListRow, rowsOf } from '../support/site-lists.js';

const NAME = 'measured.csv';
const HEADER = 'segment,segmentId,quantity,at,supplyId,point,unit,measured';
const read = (...lines: string[]) => readMeasured([HEADER, ...lines].join('\r\n'), NAME);
const CURRENT = { line: 2, label: '1.1', segmentId: 'S-1', quantity: 'current', supply: 'D-1', at: '1.1.0 PSU' };

describe('a list that is filled in', () => {
  it('gives currents in whole µA and voltages in V, each with its place', () => {
    expect(read('1.1,S-1,current,1.1.0 PSU,D-1,,mA,312.5', '1.1,S-1,voltage,the far end,,,V,0').rows).toEqual([
      { ...CURRENT, ua: 312_500 },
      { line: 3, label: '1.1', segmentId: 'S-1', quantity: 'voltage', point: null, v: 0 },
    ]);
    expect(read('1.1,,voltage,hall,,hall,,50').rows).toMatchObject([
      { label: '1.1', segmentId: null, point: 'hall', v: 50 },
    ]);
  });

  it('says nothing of rows without a value, whatever else they hold, and may hold no other', () => {
    expect(read('1.1,S-1,current,PSU,,,A,', ',,odd,,,,, ', '', ',,,,,,,').rows).toEqual([]);
    expect(read().rows).toEqual([]);
  });

  it.each([
    ['columns in another order, and more of them', 'x,measured,quantity,supplyId,segmentId\r\n,312.5,current,D-1,S-1'],
    ['semicolons', 'segmentId;quantity;supplyId;measured\r\nS-1;current;D-1;312,5'],
    ['tabulators', '\uFEFFsegmentId\tquantity\tsupplyId\tmeasured\r\nS-1\tcurrent\tD-1\t312.5'],
  ])('is read with %s', (_what, source) => {
    expect(readMeasured(source, NAME).rows).toMatchObject([{ segmentId: 'S-1', supply: 'D-1', ua: 312_500 }]);
  });

  // What would be beyond the greatest value as thousands is a fraction.
  it.each([
    ['current', '9,999', null],
    ['current', '10,001', 10_001],
    ['current', '328.125', 328_125],
    ['voltage', '27,912', 27.912],
    ['voltage', '0,125', 0.125],
  ])('with semicolons a %s of %s is %s', (quantity, given, expected) => {
    const list = `segmentId;quantity;supplyId;measured\r\nS-1;${quantity};D-1;${given}`;
    if (expected === null) expect(() => readMeasured(list, NAME)).toThrow('cannot be taken for thousands');
    else
      expect(readMeasured(list, NAME).rows).toMatchObject([
        quantity === 'current' ? { ua: expected } : { v: expected },
      ]);
  });

  it('takes a value twice for one place, and refuses two values', async () => {
    const row = '1.1,S-1,current,PSU,D-1,,mA,';
    expect(read(`${row}300`, `${row}300.0`).rows).toHaveLength(1);
    const { detail } = await refusalOf(async () => read(`${row}300`, `${row}301`));
    expect(detail).toBe('measured: "301" is not allowed; it takes 300, as line 2 says of the same place');
  });

  // A spreadsheet makes 1.1 of 1.10.
  it('does not go by what a segment is called where several are called so', () => {
    const rows = ['1.1,S-1,voltage,,,,V,27', '1.1,S-10,voltage,,,,V,'];
    expect(read(...rows).rows).toMatchObject([{ label: null, segmentId: 'S-1' }]);
    expect(read(rows[0] ?? '').rows).toMatchObject([{ label: '1.1', segmentId: 'S-1' }]);
  });
});

describe('a list that cannot be used', () => {
  it.each([
    [',,current,PSU,D-1,,mA,300', 'segmentId: nothing is not allowed'],
    ['1.1,S-1,,PSU,D-1,,mA,300', 'quantity: nothing is not allowed; it takes one of current, voltage'],
    ['1.1,S-1,power,PSU,D-1,,W,9', 'quantity: "power" is not allowed; it takes one of current, voltage'],
    ['1.1,S-1,current,PSU,,,mA,300', 'supplyId: nothing is not allowed; it takes the id of a supply; a row for each'],
    ['1.1,S-1,current,PSU,D-1,,A,0.3', 'unit: "A" is not allowed; it takes mA for a current'],
    ['1.1,S-1,current,PSU,D-1,,mA,300 mA', 'measured: "300 mA" is not allowed; it takes a number in mA such as 312.5'],
    ['1.1,S-1,current,PSU,D-1,,mA,"312,5"', 'measured: "312,5" is not allowed; it takes a number in mA'],
    ['1.1,S-1,current,PSU,D-1,,mA,-1', 'measured: "-1" is not allowed; it takes a number from 0 to 10000 mA'],
    ['1.1,S-1,current,PSU,D-1,,mA,10000.001', 'a number from 0 to 10000 mA'],
    ['1.1,S-1,voltage,,,,V,50.001', 'measured: "50.001" is not allowed; it takes a number from 0 to 50 V'],
    ['1.1,S-1,voltage,,,h\uFFFDll,V,27', 'point: "h\uFFFDll" is not allowed; it takes a text in UTF-8'],
    ['1.1,S-1,current', 'the row ends before the column measured; it takes 8 cells'],
    ['1.1,S-1,current,PSU,D-1,,mA,300,5', '"5" stands behind the last column; a row takes 8 cells'],
  ])('%s is refused with its line', async (row, says) => {
    const { code, status, place, detail } = await refusalOf(async () => read('1.1,S-1,current,PSU,D-1,,mA,10000', row));
    expect([code, status, place]).toEqual(['invalid-measured-values', 422, { part: NAME, line: 3 }]);
    expect(detail).toContain(says);
  });

  it('is one with another header', async () => {
    const { detail, place } = await refusalOf(async () => readMeasured('productId,currentMa\r\nM-1,3', NAME));
    expect(detail).toMatch(/^the first line is no header of a list of measured values; it takes headings /);
    expect(place).toEqual({ part: NAME, line: 1 });
  });
});

describe('a sheet with measured values', () => {
  const SHEET = `
segments:
  - segment: "1.1"
    cable: 0.8 mm pair
    runs: [{from: board, to: hall, length: 20 m}]
    measured:
      currents: [{supply: "1.1.0", current: 1 mA}, {supply: D-2, current: 2 mA}, {supply: PSU three, current: 3 mA}]
      voltages: [{voltage: 21 V}, {at: hall, voltage: 22 V}]
      symptom: far end drops out
  - segment: S-2
    critical: true
`;
  const put = async (...lines: string[]) => withMeasured(await readSheet(SHEET, 'site.yaml'), read(...lines));

  it('is the sheet itself where nothing was measured', async () => {
    expect(await put()).toEqual(await readSheet(SHEET, 'site.yaml'));
  });

  it('has them in place of its own, whatever it calls the supply, and keeps the rest', async () => {
    const before = await readSheet(SHEET, 'site.yaml');
    const { segments } = await put(
      '1.1,S-1,current,1.1.0 PSU,D-1,,mA,10',
      '1.1,S-1,current,1.1.9 PSU three,D-3,,mA,30',
      '1.1,S-1,voltage,hall,,hall,V,25',
    );
    expect(segments[1]).toEqual(before.segments[1]);
    expect(segments[0]).toEqual({
      ...before.segments[0],
      measured: {
        currents: [
          { supply: 'D-2', current: 2000 },
          { supply: 'D-1', current: 10_000 },
          { supply: 'D-3', current: 30_000 },
        ],
        voltages: [{ voltage: 21 }, { at: 'hall', voltage: 25 }],
        symptom: 'far end drops out',
      },
    });
  });

  it('finds a segment by its id before what it is called, and gives one that it does not name an entry', async () => {
    const { segments } = await put('1.1,S-2,voltage,,,,V,24', '1.3,S-3,voltage,,,,V,25', '1.4,,voltage,,,,V,26');
    expect(
      segments.map(({ segment, critical, measured }) => [segment, critical, measured?.voltages[0]?.voltage]),
    ).toEqual([
      ['1.1', undefined, 21],
      ['S-2', true, 24],
      ['S-3', undefined, 25],
      ['1.4', undefined, 26],
    ]);
  });

  it.each([
    ['1.1,S-1,voltage,hal,,hal,V,25', 'point: "hal" is not allowed; it takes a point of its runs'],
    [
      '1.9,S-9,voltage,hall,,hall,V,25',
      'point: "hall" is not allowed; it takes nothing, as the site sheet gives no runs',
    ],
  ])('%s is refused, as the point is none', async (row, says) => {
    const { code, place, detail } = await refusalOf(() => put(row));
    expect([code, place]).toEqual(['invalid-measured-values', { part: NAME, line: 2 }]);
    expect(detail).toContain(says);
  });
});

async function auditedWith(fixture: string, documents: Documents): Promise<Report> {
  return audit(await fixtureArchive(fixture), await readGiven(documents));
}

const document = (text: string) => ({ name: NAME, text });

/** Every place with a value of its own. */
const value = ({ quantity }: ListRow, index: number) => (quantity === 'current' ? 100 + 1.5 * index : 24 + index / 100);

/** What a report has measured, by the id of the supplies or the point. */
const measuredIn = ({ segments }: Report) =>
  segments.flatMap(({ id, onSite }) =>
    (onSite?.expected?.readings ?? []).map(({ supplies, point, measured }) => [id, supplies.join() || point, measured]),
  );

describe('the list that a report gives', () => {
  it.each([',', ';', '\t'])(
    'filled in and read back with %j has the report say what was measured',
    async (separator) => {
      const site = document(HOUSE_SHEET);
      const text = formatCsvSiteCheck(await auditedWith('house', { site }));
      const filled = filledIn(text, value, separator);
      const report = await auditedWith('house', { site, measured: document(filled) });
      const rows = rowsOf(text).map((row, index) => [row.segmentId, row.supplyId || row.point, value(row, index)]);
      expect(rows).toHaveLength(3);
      expect(measuredIn(report)).toEqual(rows);
      // What is measured stands in the next list, which then says the same.
      const again = await auditedWith('house', { site, measured: document(formatCsvSiteCheck(report)) });
      expect(measuredIn(again)).toEqual(rows);
    },
  );

  it('without a site sheet puts the current of each supply down, and their sum', async () => {
    const text = formatCsvSiteCheck(await reportOf('school'));
    const report = await auditedWith('school', { measured: document(filledIn(text, value)) });
    const rows = rowsOf(text).map((row, index) => [row.segmentId, row.supplyId || null, value(row, index)]);
    const readings = report.segments.flatMap(({ id, onSite }) =>
      (onSite?.expected?.readings ?? []).map((reading) => ({ ...reading, id })),
    );
    const singly = readings.filter(({ supplies }) => supplies.length < 2);
    expect(singly.map(({ id, supplies, measured }) => [id, supplies[0] ?? null, measured])).toEqual(rows);
    for (const { supplies, measured } of readings.filter((reading) => reading.supplies.length > 1)) {
      const parts = singly.filter(({ supplies: [one] }) => one !== undefined && supplies.includes(one));
      expect(measured).toBe(parts.reduce((sum, part) => sum + (part.measured ?? 0), 0));
    }
    expect(report.site).not.toBeNull();
  });

  it('as it is changes no segment and no finding', async () => {
    const before = await reportOf('school');
    const after = await auditedWith('school', { measured: document(formatCsvSiteCheck(before)) });
    expect([after.segments, after.findings]).toEqual([before.segments, before.findings]);
  });

  it('has a digest that tells sheet and list apart, however the texts are cut', async () => {
    const [site, text] = [document(HOUSE_SHEET), HEADER];
    const digests = [
      await readGiven({ site }),
      await readGiven({ site, measured: document(text) }),
      await readGiven({ site: document(`${HOUSE_SHEET}\n`), measured: document(text) }),
      await readGiven({
        site,
        measured: document(`${text}
`),
      }),
      await readGiven({ measured: document(text) }),
    ].map((given) => given.site?.sha256);
    expect(new Set(digests).size).toBe(digests.length);
  });

  it('gives back any name of the archive or the sheet as it is', () => {
    const name = fc
      .string({ unit: 'grapheme', minLength: 1, maxLength: 30 })
      .filter((text) => text.trim() !== '' && !/[\r\uFFFD]/.test(text));
    const base = { at: 'PSU', unit: 'mA', line: 2 };
    fc.assert(
      fc.property(name, name, (segmentId, supply) => {
        const cells = [segmentId, segmentId, 'current', base.at, supply, '', base.unit, '5'].map(
          (cell) => `"${cell.replaceAll('"', '""')}"`,
        );
        fc.pre(!/^'*[=+\-@\t＝＋－＠]/u.test(segmentId) && !/^'*[=+\-@\t＝＋－＠]/u.test(supply)); // which the format guards
        expect(read(cells.join(',')).rows).toEqual([
          { line: 2, label: segmentId, segmentId, quantity: 'current', supply, at: 'PSU', ua: 5000 },
        ]);
      }),
    );
  });
});

it('an empty sheet says nothing', () => {
  expect(emptySheet('a')).toEqual({ lines: [], supplies: [], segments: [], name: 'a' });
});
