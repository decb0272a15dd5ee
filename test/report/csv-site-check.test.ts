import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { readGiven } from '../../src/given.js';
import { formatCsvSiteCheck } from '../../src/report/format/csv-site-check.js';
import type { Report, ReportSegment } from '../../src/report/report.js';
import { fixtureArchive } from '../support/archives.js';
import { HOSTILE, hostileReport, reportOf } from '../support/formats.js';
import { HOUSE_SHEET, type ListRow, rowsOf } from '../support/site-lists.js';

const HEADER =
  'segment,segmentId,quantity,at,togetherWith,supplyId,point,unit,expected,low,high,measured,date,note,connectedBy';

async function withSheet(fixture: string, text: string): Promise<Report> {
  return audit(await fixtureArchive(fixture), await readGiven({ site: { name: 'site.yaml', text } }));
}

const rowsIn = (report: Report, label?: string): ListRow[] =>
  rowsOf(formatCsvSiteCheck(report)).filter(({ segment }) => label === undefined || segment === label);

const figures = ({ expected, low, high }: ListRow) => [expected, low, high];

const changed = (
  report: Report,
  label: string,
  change: (segment: ReportSegment) => Partial<ReportSegment>,
): Report => ({
  ...report,
  segments: report.segments.map((one) => (one.label === label ? { ...one, ...change(one) } : one)),
});

describe('without a site sheet', () => {
  it('each segment has its load within the policy’s share, and the least voltage of a device', async () => {
    const text = formatCsvSiteCheck(await reportOf('house'));
    expect(text.split('\r\n')[0]).toBe(HEADER);
    const [current, voltage, ...more] = rowsOf(text);
    expect(more).toEqual([]);
    // fixtures/house.md: 167 mA; 20 % less and more are 133.6 and 200.4 mA. 21 V: volume 3/2/2 §1.2.2, as installed.
    expect(current).toMatchObject({ segment: '1.1', quantity: 'current', at: 'Supply', unit: 'mA', togetherWith: '' });
    expect(figures(current ?? {})).toEqual(['167', '133.6', '200.4']);
    expect(voltage).toMatchObject({ segment: '1.1', quantity: 'voltage', at: 'the far end', point: '', unit: 'V' });
    expect(figures(voltage ?? {})).toEqual(['', '21', '']);
    const blank = { measured: '', date: '', note: '', connectedBy: '' };
    expect([current, voltage]).toMatchObject([blank, blank]);
  });

  it('the share and the least voltage are the policy’s', async () => {
    const report = await reportOf('house');
    const values = { ...report.policy.values, measuredShare: 0.5, leastDeviceV: 24 };
    const rows = rowsIn({ ...report, policy: { ...report.policy, values } });
    expect(rows.map(figures)).toEqual([
      ['167', '83.5', '250.5'],
      ['', '24', ''],
    ]);
  });

  it('supplies of one segment have a row each, and what they come to together stands in the first', async () => {
    const report = await reportOf('school');
    const rows = rowsIn(report, '3.2').filter(({ quantity }) => quantity === 'current');
    const units = report.segments.find(({ label }) => label === '3.2')?.supply.units ?? [];
    expect(rows.map(({ supplyId }) => supplyId)).toEqual(units.map(({ id }) => id));
    // fixtures/school.md: three supplies on 3.2, 43.8 mA
    expect(rows.map(({ at, togetherWith, expected }) => [at, togetherWith, expected])).toEqual([
      ['Supply 3.2 A', 'Supply 3.2 B; Supply 3.2 C', '43.8'],
      ['Supply 3.2 B', 'Supply 3.2 A; Supply 3.2 C', ''],
      ['Supply 3.2 C', 'Supply 3.2 A; Supply 3.2 B', ''],
    ]);
  });

  it('segments of which nobody knows what feeds them or what is on them are left out, and those without power', async () => {
    for (const fixture of ['school', 'repeaters']) {
      const report = await reportOf(fixture);
      const judged = report.segments.filter(
        ({ medium, boundariesKnown, supply }) => medium.needsPower && boundariesKnown && supply.units.length > 0,
      );
      expect([...new Set(rowsIn(report).map(({ segmentId }) => segmentId))]).toEqual(judged.map(({ id }) => id));
      expect(judged.length).toBeLessThan(report.segments.length);
    }
    const idle = changed(await reportOf('house'), '1.1', ({ load }) => ({ load: { ...load, items: 0 } }));
    expect(rowsIn(idle)).toEqual([]);
  });
});

describe('a supply that a site sheet has feed another segment', () => {
  // 2.2 has a supply; 2.1 is fed by it as well, and has the entry.
  const SHEET = 'segments: [{segment: "2.1", fedBy: ["2.1.0", "Supply from the old annexe"]}]';

  it('has one row, with the first segment that it feeds, between what hangs on it alone and all that it feeds', async () => {
    const report = await withSheet('school', SHEET);
    const currents = (label: string) => rowsIn(report, label).filter(({ quantity }) => quantity === 'current');
    expect(currents('2.2')).toEqual([]);
    // Of the connected 225.1 and 38.5 mA, less and more 20 %.
    expect(currents('2.1').map(({ at, ...row }) => [at, ...figures(row)])).toEqual([
      ['2.1.0 Supply and coupler 2.1', '', '0', '270.12'],
      ['Supply from the old annexe', '', '30.8', '316.32'],
    ]);
  });
});

describe('with a site sheet', () => {
  it('has the readings of the report, and who says what is connected', async () => {
    const report = await withSheet('house', HOUSE_SHEET);
    const expected = report.segments[0]?.onSite?.expected;
    const text = (value: number | null | undefined) => String(value ?? '');
    expect(rowsIn(report).map((row) => [row.quantity, row.at, row.point, ...figures(row), row.connectedBy])).toEqual(
      expected?.readings.map(({ quantity, at, point, expected: e, low, high }) => [
        ...[quantity, at, point ?? '', text(e), text(low), text(high), expected.connectedBy],
      ]),
    );
    expect(rowsIn(report).map(({ point }) => point)).toEqual(['', 'upstairs', 'garden']);
  });

  it('has the values that were measured, and still the far end where nothing is known of the cable', async () => {
    const sheet = 'segments: [{segment: "1.1", measured: {currents: [{supply: Supply, current: 150.5 mA}]}}]';
    const rows = rowsIn(await withSheet('house', sheet));
    expect(rows.map(({ at, measured, low }) => [at, measured, low])).toEqual([
      ['Supply', '150.5', '133.6'],
      ['the far end', '', '21'],
    ]);
  });
});

it('is a header alone where there is nothing to measure', async () => {
  const { policy } = await reportOf('house');
  expect(formatCsvSiteCheck({ segments: [], policy })).toBe(`${HEADER}\r\n`);
});

it('a hostile name stays in its cell and begins no formula', async () => {
  const report = await hostileReport();
  const rows = rowsIn(report);
  expect(rows).toHaveLength(rowsIn(await reportOf('school')).length);
  expect(new Set(rows.map(({ segment }) => segment))).toEqual(new Set([`'${HOSTILE.replace('\uD800', '\uFFFD')}`]));
});
