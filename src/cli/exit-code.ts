import { SEVERITIES, type Severity } from '../policy/policy.js';
import type { Comparison } from '../report/compare/comparison.js';
import type { Report, ReportFinding } from '../report/report.js';

/**
 * Exit codes. Over several archives the greatest counts: our own fault, or nothing that could be checked, before bad
 * input before findings.
 */
export const EXIT = { fine: 0, findings: 1, badInput: 2, fault: 3 } as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** From which severity on what is new or worsened fails a build; `new` is `new:error`. */
export type FailOnChange = 'new' | `new:${Severity}` | 'never';

/** From which severity on findings fail a build; `never` leaves that to the reader. */
export type FailOn = Severity | FailOnChange;

/** Of a report that is held against no earlier one. */
export const FAIL_ON_FOUND: readonly (Severity | 'never')[] = [...SEVERITIES, 'never'];

export const FAIL_ON_CHANGE: readonly FailOnChange[] = [
  'new',
  ...SEVERITIES.map((severity) => `new:${severity}` as const),
  'never',
];

export const FAIL_ON: readonly FailOn[] = [...SEVERITIES, ...FAIL_ON_CHANGE];

/** Findings that are waived never count; against a baseline, nor do those that it has just as bad. */
export function exitCodeOf({ summary, findings }: Report, failOn: FailOn): ExitCode {
  if (!isAudited(summary)) return EXIT.fault;
  const severities = severitiesOf(failOn);
  const onlyChanges = failOn.startsWith('new');
  return findings.some(
    (finding) => severities.includes(finding.severity) && finding.waiver === null && (!onlyChanges || isWorse(finding)),
  )
    ? EXIT.findings
    : EXIT.fine;
}

/** Of a comparison: what is new or worsened, not waived. */
export function exitCodeOfComparison({ old, new: fresh, findings }: Comparison, failOn: FailOnChange): ExitCode {
  if (!isAudited(old) || !isAudited(fresh)) return EXIT.fault;
  const severities = severitiesOf(failOn);
  return [...findings.new, ...findings.worsened].some(
    ({ new: now }) => now !== null && severities.includes(now.severity) && !now.waived,
  )
    ? EXIT.findings
    : EXIT.fine;
}

/** What looked at nothing must not pass for what found nothing. */
function isAudited({ complete, checks }: Pick<Report['summary'], 'complete' | 'checks'>): boolean {
  return complete && checks > 0;
}

function severitiesOf(failOn: FailOn): readonly Severity[] {
  if (failOn === 'never') return [];
  const least = failOn === 'new' ? 'error' : (failOn.replace(/^new:/, '') as Severity);
  return SEVERITIES.slice(0, SEVERITIES.indexOf(least) + 1);
}

/** Without a baseline everything is new. */
function isWorse({ sinceBaseline }: ReportFinding): boolean {
  return sinceBaseline === null || sinceBaseline === 'new' || sinceBaseline === 'worsened';
}

export function worst(codes: readonly ExitCode[]): ExitCode {
  return Math.max(EXIT.fine, ...codes) as ExitCode;
}
