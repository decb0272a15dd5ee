import { audit } from '../../src/audit.js';
import type { Report, ReportFinding } from '../../src/report/report.js';
import { fixtureArchive } from './archives.js';

export const FIXTURES_OF_FORMATS = ['house', 'repeaters', 'school', 'twin-new', 'twin-old'];

export async function reportOf(fixture: string): Promise<Report> {
  return audit(await fixtureArchive(fixture));
}

/** What breaks a format that does not escape: marks of XML and CSV, formulas, control characters, half a pair. */
export const HOSTILE = '=1+1" \']]>&<!--;,\t\r\n\u0000\u0008\u001B\u0085\u2028\uFFFE\uD800</testcase>&#0; 🔌 end';

/** A report with a hostile text wherever a name or a sentence can stand. */
export async function hostileReport(): Promise<Report> {
  const report = await reportOf('school');
  const text = (): string => HOSTILE;
  return {
    ...report,
    projects: report.projects.map((project) => ({ ...project, name: HOSTILE })),
    segments: report.segments.map((segment) => ({ ...segment, name: HOSTILE, lineName: HOSTILE, label: HOSTILE })),
    findings: report.findings.map((finding) => ({ ...finding, message: text(), remedy: text() })),
    unknowns: report.unknowns.map((unknown) => ({ ...unknown, product: text(), declared: text() })),
    schedule: report.schedule.map((row) => ({ ...row, place: HOSTILE, orderNumber: HOSTILE, segments: [HOSTILE] })),
    notScheduled: report.notScheduled.map((one) => ({ ...one, segments: [HOSTILE], because: HOSTILE })),
    coverage: report.coverage.map((entry) => ({ ...entry, missing: entry.missing === null ? null : HOSTILE })),
  };
}

/** The finding as waived. */
export function waived(finding: ReportFinding): ReportFinding {
  const waiver = {
    reason: 'checked on site',
    author: 'planner',
    expires: '2031-05-31',
    accepted: null,
    raiseAbove: null,
  };
  return { ...finding, waiver };
}
