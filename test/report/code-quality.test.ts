import { describe, expect, it } from 'vitest';
import { formatCodeQuality } from '../../src/report/format/code-quality.js';
import type { Report } from '../../src/report/report.js';
import { reportOf, WAIVER, withFindings, withHostileNames, withWaivers } from '../support/reports.js';

interface Issue {
  readonly description: string;
  readonly check_name: string;
  readonly fingerprint: string;
  readonly severity: string;
  readonly location: { readonly path: string; readonly lines: { readonly begin: number } };
}

const CONTEXT = { archive: 'plans/school' };
const read = (report: Report, context = CONTEXT) => JSON.parse(formatCodeQuality(report, context)) as Issue[];

// The severities and the fields are those of the merge request widget's documentation (from memory, not confirmed).
const NAMES = { error: 'critical', warning: 'minor', note: 'info' };

describe('the code-quality report', () => {
  it('has every finding with what, where, how bad and which', async () => {
    const report = await reportOf('school');
    expect(report.findings.length).toBeGreaterThan(20);
    expect(read(report)).toEqual(
      report.findings.map(({ rule, severity, fingerprint, message, remedy, location }) => ({
        description: `${message} ${remedy}`,
        check_name: rule,
        fingerprint,
        severity: NAMES[severity],
        location: { path: 'plans/school', lines: { begin: location.line } },
      })),
    );
  });

  it('begins with the array, without a byte order mark, and is an empty array where nothing is found', async () => {
    const report = await reportOf('school');
    expect(formatCodeQuality(report, CONTEXT).startsWith('[')).toBe(true);
    expect(formatCodeQuality(withFindings(report, []), CONTEXT)).toBe('[]\n');
  });

  it('leaves out what is waived', async () => {
    const report = withWaivers(await reportOf('school'));
    const open = report.findings.filter(({ waiver }) => waiver === null);
    expect(open.length).toBeLessThan(report.findings.length);
    expect(read(report).map(({ fingerprint }) => fingerprint)).toEqual(open.map(({ fingerprint }) => fingerprint));
    const all = withFindings(
      report,
      report.findings.map((one) => ({ ...one, waiver: WAIVER })),
    );
    expect(read(all)).toEqual([]);
  });

  it('tells findings of the same identity apart', async () => {
    const report = await reportOf('school');
    const [first] = report.findings;
    if (first === undefined) throw new Error('the school has findings');
    const fingerprints = read(withFindings(report, [first, first, first])).map(({ fingerprint }) => fingerprint);
    expect(fingerprints).toEqual([first.fingerprint, `${first.fingerprint}-2`, `${first.fingerprint}-3`]);
  });

  it('names line 1 where the place has no line', async () => {
    const report = await reportOf('house');
    const [first] = (await reportOf('school')).findings;
    if (first === undefined) throw new Error('the school has findings');
    const [issue] = read(withFindings(report, [{ ...first, location: { part: 'a', line: null } }]));
    expect(issue?.location.lines).toEqual({ begin: 1 });
  });

  it('puts every description on one line of plain characters', async () => {
    for (const { description } of read(withHostileNames(await reportOf('school')))) {
      expect(description).not.toMatch(/[\p{C}\p{Zl}\p{Zp}]/u);
    }
  });

  it.each([
    ['plans/school', 'plans/school'],
    ['./plans//school', 'plans/school'],
    ['plans\\school', 'plans/school'],
    ['/srv/school', 'srv/school'],
    ['', 'archive'],
  ])('calls the archive %j by its path %j', async (archive, path) => {
    expect(read(await reportOf('school'), { archive })[0]?.location.path).toBe(path);
  });
});
