import { audit, auditRecords } from '../../src/audit.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import { DEFAULT_POLICY } from '../../src/policy/effective.js';
import { SEVERITIES } from '../../src/policy/policy.js';
import { BASELINE_STATES, type Report, type ReportFinding } from '../../src/report/report.js';
import { EN } from '../../src/words/en/words.js';
import { fixtureArchive } from './archives.js';
import { ARCHIVE_DIGEST, type PlantSpec, recordOf, sheetOf } from './plants.js';

/** The report of a fixture, by the real audit. */
export async function reportOf(fixture: string): Promise<Report> {
  return audit(await fixtureArchive(fixture));
}

/** The report of a test plant, with its policy and its site sheet. */
export function reportOfPlant(plant: PlantSpec, words = EN): Promise<Report> {
  const policy = { ...DEFAULT_POLICY, values: { ...COMMON_PRACTICE, ...plant.policy } };
  const file = { source: 'archive', sha256: ARCHIVE_DIGEST, bytes: 1, partsRead: [] } as const;
  const sheet = sheetOf(plant.sheet);
  const site = sheet === null ? null : { sheet, sha256: 'b'.repeat(64) };
  return auditRecords([recordOf(plant)], file, { policy, site, words });
}

/** The same report with other findings, and the counts that go with them. */
export function withFindings(report: Report, findings: readonly ReportFinding[]): Report {
  const open = findings.filter(({ waiver }) => waiver === null);
  const counts = SEVERITIES.map((severity) => [severity, open.filter((one) => one.severity === severity).length]);
  const summary = { ...report.summary, findings: Object.fromEntries(counts), waived: findings.length - open.length };
  return { ...report, summary, findings: [...findings] };
}

export const WAIVER = {
  reason: 'Replaced in spring',
  author: 'Facility office',
  expires: '2027-03-31',
  accepted: '362.7 mA',
  raiseAbove: '370 mA',
} as const;

/** Every third finding is waived, from the first on. */
export function withWaivers(report: Report): Report {
  const findings = report.findings.map((one, index) => (index % 3 === 0 ? { ...one, waiver: WAIVER } : one));
  return { ...withFindings(report, findings), asOf: '2026-06-01' };
}

/** The findings are marked in turn with each of the states; the last one, of the least severity, is new. */
export function withBaseline(report: Report): Report {
  const states = BASELINE_STATES.length;
  const findings = report.findings.map((one, index) => {
    const state = index === report.findings.length - 1 ? 'new' : BASELINE_STATES[(index + 1) % states];
    return { ...one, sinceBaseline: state ?? null };
  });
  const { archive, policy, tool } = report;
  const baseline = { sha256: archive.sha256, policySha256: policy.sha256, tool: tool.version };
  return { ...withFindings(report, findings), baseline };
}

/** As many findings as wanted, worst first as ever, each with an identity of its own. */
export function withMany(report: Report, total: number): Report {
  const per = Math.ceil(total / report.findings.length);
  const findings = report.findings.flatMap((one) =>
    Array.from({ length: per }, (_, copy) => ({ ...one, fingerprint: `${one.fingerprint}${copy}` })),
  );
  return withFindings(report, findings.slice(0, total));
}

/** Names that would be something else than names, if they were written as they are. */
export const HOSTILE_NAMES = [
  '<img src=x onerror=alert(1)>',
  '</details><script>alert(1)</script>',
  '<!-- hidden',
  '[click](https://example.org)',
  '![pixel](https://example.org/p.png)',
  'https://example.org/a?b=c',
  'WWW.example.org',
  'mailto:somebody@example.org',
  'somebody@example.org',
  '@everyone and @some-team/members',
  'Closes #1, GH-1, group/project#1, !2, ~"label", %3, &4, $5',
  '| a | b |\\| c \\',
  'line one\n\n# heading\r\n- item',
  '\n::error file=x::forged',
  '\r::set-output name=a::b',
  '\u2028::stop-commands::x\u0085::error::y',
  '%0A::error::decoded',
  'a:b,title=c::d%',
  '`code` *strong* _em_ ~~gone~~ **',
  '&lt;b&gt; &#64;name &commat;name',
  '{0} and {1}',
  '\\[a\\](b)',
  'turned \u202E around \u200B zero \uD800 half',
  ':tada: $x^2$ [^1] [x]',
] as const;

/** Every finding speaks of a hostile name. */
export function withHostileNames(report: Report): Report {
  const nameAt = (index: number) => HOSTILE_NAMES[index % HOSTILE_NAMES.length] ?? '';
  const findings = report.findings.map((one, index) => ({
    ...one,
    subject: { ...one.subject, label: nameAt(index) },
    message: `${nameAt(index)} stands on no line.`,
    remedy: `Look for ${nameAt(index)}`,
    waiver: index === 0 ? { ...WAIVER, reason: nameAt(1), author: nameAt(1) } : null,
  }));
  const segments = report.segments.map((one, index) => ({ ...one, name: nameAt(index), label: nameAt(index + 1) }));
  return { ...withFindings(report, findings), segments };
}
