import { SEVERITIES, type Severity } from '../policy/policy.js';
import type { ReportFinding } from './report.js';

/** Worst first, then by rule; within a rule in the order given, which is that of the plant. A new list. */
export function worstFirst(
  findings: readonly ReportFinding[],
  rules: readonly { readonly id: string }[],
): ReportFinding[] {
  const order = new Map(rules.map(({ id }, index) => [id, index]));
  const rank = ({ severity, rule }: ReportFinding) =>
    SEVERITIES.indexOf(severity) * rules.length + (order.get(rule) ?? 0);
  return [...findings].sort((a, b) => rank(a) - rank(b));
}

/** Findings by severity, without those that are waived. */
export function countFindings(findings: readonly ReportFinding[]): Record<Severity, number> {
  const open = findings.filter(({ waiver }) => waiver === null);
  return tally(
    SEVERITIES,
    open.map(({ severity }) => severity),
  );
}

/** How often each of some names stands among values. */
export function tally<T extends string>(names: readonly T[], values: readonly T[]): Record<T, number> {
  const counts = Object.fromEntries(names.map((name) => [name, 0])) as Record<T, number>;
  for (const value of values) counts[value]++;
  return counts;
}
