import type { Report } from '../../../src/report/report.js';
import { FIXTURES_OF_FORMATS, HOSTILE, reportOf } from '../../support/formats.js';
import { withBaseline, withHostileNames, withMany, withWaivers } from '../../support/reports.js';
import { plannedReport, sitedReport, splitReport, withEveryText } from './pages.js';

/** The reports that a page is made of in tests, by name. */

const made = new Map<string, Promise<Report>>();

/** A report is made once, however many tests look at it. */
function once(name: string, make: () => Promise<Report>): Promise<Report> {
  const known = made.get(name) ?? make();
  made.set(name, known);
  return known;
}

const MAKERS: readonly [string, () => Promise<Report>][] = [
  ...FIXTURES_OF_FORMATS.map((name): [string, () => Promise<Report>] => [name, () => reportOf(name)]),
  ['the school with its site sheet', () => sitedReport()],
  ['a plan', () => plannedReport()],
  ['a split', () => splitReport()],
  ['waivers', async () => withWaivers(await reportOf('school'))],
  ['a baseline', async () => withBaseline(await reportOf('school'))],
  ['equal fingerprints and many findings', async () => doubled(withMany(await reportOf('school'), 60))],
  ['hostile names', async () => withHostileNames(await reportOf('school'))],
  ['hostile texts everywhere', async () => withEveryText(await sitedReport(), HOSTILE)],
];

export const REPORTS = MAKERS.map(([name, make]) => [name, () => once(name, make)] as const);

function doubled(report: Report): Report {
  return { ...report, findings: report.findings.flatMap((one, index) => (index < 5 ? [one, { ...one }] : [one])) };
}
