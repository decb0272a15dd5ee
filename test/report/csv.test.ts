import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guarded, unguarded } from '../../src/documents/formula.js';
import { type Cell, csv } from '../../src/report/format/csv.js';
import { formatCsvFindings } from '../../src/report/format/csv-findings.js';
import { formatCsvSegments } from '../../src/report/format/csv-segments.js';
import { formatCsvUnknowns } from '../../src/report/format/csv-unknowns.js';
import { FIXTURES_OF_FORMATS, HOSTILE, hostileReport, reportOf, waived } from '../support/formats.js';

type Row = Readonly<Record<string, string>>;

const rowsOf = (text: string): Row[] => parse(text, { columns: true });
const one = (cell: Cell) => csv([['a', () => cell]], [0]);

describe('a cell', () => {
  it.each<[Cell, string]>([
    [null, ''],
    ['', ''],
    [0, '0'],
    [-8.5, '-8.5'],
    [1234567.125, '1234567.125'],
    [true, 'true'],
    ['plain', 'plain'],
    ['a,b', '"a,b"'],
    ['a"b', '"a""b"'],
    ['a\nb', '"a\nb"'],
    ['a\rb', '"a\rb"'],
    ['a;b', 'a;b'],
    ['-8', "'-8"],
    ['=1+1', "'=1+1"],
    ['+1', "'+1"],
    ['@sum', "'@sum"],
    ['\tx', "'\tx"],
    ['\rx', '"\'\rx"'],
    ['=a,"b"', '"\'=a,""b"""'],
    ["'=1", "''=1"],
    ["'plain", "'plain"],
    ['a=b', 'a=b'],
  ])('%j is written as %j', (cell, expected) => {
    expect(one(cell)).toBe(`a\r\n${expected}\r\n`);
  });
});

const special = fc.string({
  unit: fc.constantFrom("'", '=', '+', '-', '@', '\t', '\r', '\n', '"', ',', ';', 'a', '＝'),
});
const anyText = fc.oneof(special, fc.string({ unit: 'binary' }));

describe('guarding against formulas', () => {
  it('is undone without a doubt, whatever the text', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(unguarded(guarded(text))).toBe(text);
      }),
    );
  });

  // OWASP, "CSV Injection": these begin a formula.
  it('lets no text begin a formula', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(guarded(text)).not.toMatch(/^[=+\-@\t\r\n＝＋－＠]/);
      }),
    );
  });
});

it('a table reads back by csv-parse as it was', () => {
  const tables = fc.array(fc.tuple(anyText, anyText, fc.oneof(fc.double({ noNaN: true }), fc.integer())));
  fc.assert(
    fc.property(tables, (rows) => {
      const text = csv<(typeof rows)[number]>(
        [
          ['a', ([a]) => a],
          ['b', ([, b]) => b],
          ['n', ([, , n]) => n],
        ],
        rows,
      );
      const expected = rows.map(([a, b, n]) => [guarded(a), guarded(b), String(n)]);
      expect(parse(text, { record_delimiter: '\r\n' })).toEqual([['a', 'b', 'n'], ...expected]);
    }),
  );
});

describe('csv-segments', () => {
  it.each(FIXTURES_OF_FORMATS)('has the segments of %s with their figures', async (fixture) => {
    const { segments } = await reportOf(fixture);
    const rows = rowsOf(formatCsvSegments(await reportOf(fixture)));
    const figure = (text: string | undefined) => (text === '' ? null : Number(text));
    expect(
      rows.map((row) => [
        row.segmentId,
        row.verdict,
        figure(row.loadMa),
        figure(row.headroomMa),
        figure(row.capacityMa),
      ]),
    ).toEqual(
      segments.map(({ id, verdict, load, headroomMa, supply }) => [
        id,
        verdict,
        load.totalMa,
        headroomMa,
        supply.capacityMa,
      ]),
    );
  });

  it('shows an overloaded segment as the fixture tells of it', async () => {
    // fixtures/school.md: 1.2, 362.7 mA on 320 mA, target 256, 640 would do
    const row = rowsOf(formatCsvSegments(await reportOf('school'))).find(({ segment }) => segment === '1.2');
    expect(row).toMatchObject({
      projectName: 'Marlbrook Lane School',
      verdict: 'insufficient',
      loadMa: '362.7',
      capacityMa: '320',
      targetMa: '256',
      headroomMa: '-106.7',
      suggestedRatingMa: '640',
      supplies: 'Supply 1.2 (AF-PS320) 320 mA',
    });
  });

  it('leaves empty what nobody knows', async () => {
    const row = rowsOf(formatCsvSegments(await reportOf('school'))).find(({ segment }) => segment === '2.4');
    expect(row).toMatchObject({ capacityMa: '', utilisation: '', headroomMa: '', unratedSupplies: '1' });
    expect(row?.supplies).toMatch(/ \?$/);
  });
});

describe('csv-findings', () => {
  it('has every finding with its words, figure and place', async () => {
    const report = await reportOf('school');
    const labels = new Map(report.segments.map(({ id, label }) => [id, label]));
    const rows = rowsOf(formatCsvFindings(report));
    expect(rows.map((row) => [row.fingerprint, row.message, row.segments, row.value, row.partLine])).toEqual(
      report.findings.map(({ fingerprint, message, segments, measure, location }) => [
        fingerprint,
        message,
        segments.map((id) => labels.get(id)).join('; '),
        String(measure.value ?? ''),
        String(location.line ?? ''),
      ]),
    );
    expect(rows.some(({ segments }) => segments?.includes('; '))).toBe(true);
  });

  it('tells who waived a finding, and until when', async () => {
    const report = await reportOf('school');
    const [first, ...others] = report.findings;
    if (first === undefined) throw new Error('the fixture has findings');
    const rows = rowsOf(formatCsvFindings({ ...report, findings: [waived(first), ...others] }));
    expect(rows[0]).toMatchObject({ waivedBy: 'planner', waivedUntil: '2031-05-31', waivedBecause: 'checked on site' });
    expect(rows[1]).toMatchObject({ waivedBy: '', waivedUntil: '', waivedBecause: '' });
  });
});

describe('csv-unknowns', () => {
  it('has every product to look up, and three columns to be filled in', async () => {
    const report = await reportOf('school');
    const text = formatCsvUnknowns(report);
    expect(text.split('\r\n')[0]).toBe(
      'orderNumber,productId,product,manufacturer,wanted,because,declared,chargedMa,devices,places,turnsAtMa,currentMa,ratingMa,note',
    );
    const rows = rowsOf(text);
    expect(rows.map((row) => [row.productId, row.wanted])).toEqual(
      report.unknowns.map(({ productId, wanted }) => [productId, wanted]),
    );
    expect(new Set(rows.flatMap((row) => [row.currentMa, row.ratingMa, row.note]))).toEqual(new Set(['']));
    // fixtures/school.md: 2.1.12 to 2.1.14 are people counters without a declared current
    expect(rows[0]).toMatchObject({ orderNumber: 'QH-PC1', chargedMa: '10', devices: '3', places: '3 on 2.1' });
  });

  it('is a header alone where nothing is to be looked up', async () => {
    expect(formatCsvUnknowns({ unknowns: [] }).split('\r\n')).toEqual([expect.stringMatching(/^orderNumber,/), '']);
  });
});

it('a hostile name stays in its cell and begins no formula', async () => {
  const report = await hostileReport();
  const held = new Set([`'${HOSTILE.replace('\uD800', '\uFFFD')}`]); // csv-parse reads UTF-8, which has no half pairs
  const segments = rowsOf(formatCsvSegments(report));
  expect(segments).toHaveLength(report.segments.length);
  expect(new Set(segments.map(({ name }) => name))).toEqual(held);
  expect(new Set(rowsOf(formatCsvFindings(report)).map(({ message }) => message))).toEqual(held);
  expect(new Set(rowsOf(formatCsvUnknowns(report)).map(({ product }) => product))).toEqual(held);
});
