import { SEVERITIES, type Severity } from '../policy/policy.js';
import type { Report } from '../report/report.js';

/** Exit codes. Over several archives the greatest counts: our own fault before bad input before findings. */
export const EXIT = { fine: 0, findings: 1, badInput: 2, fault: 3 } as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** From which severity on findings fail a build; `never` leaves that to the reader. */
export type FailOn = Severity | 'never';

export const FAIL_ON: readonly FailOn[] = [...SEVERITIES, 'never'];

/** Findings that are waived fail no build. */
export function exitCodeOf({ summary, findings }: Report, failOn: FailOn): ExitCode {
  if (!summary.complete) return EXIT.fault;
  if (failOn === 'never') return EXIT.fine;
  const atOrAbove = SEVERITIES.slice(0, SEVERITIES.indexOf(failOn) + 1);
  const open = findings.filter(({ waiver }) => waiver === null);
  return open.some(({ severity }) => atOrAbove.includes(severity)) ? EXIT.findings : EXIT.fine;
}

export function worst(codes: readonly ExitCode[]): ExitCode {
  return Math.max(EXIT.fine, ...codes) as ExitCode;
}
