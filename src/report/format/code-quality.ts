import type { Severity } from '../../policy/policy.js';
import type { Report, ReportFinding } from '../report.js';
import { archivePath } from './archive-path.js';
import type { FormatContext } from './context.js';
import { printable } from './layout.js';

/**
 * What a severity is called there. An error is a fault of the plant as it would be built; `blocker` is left to those who
 * want one.
 */
const SEVERITY_NAMES = { error: 'critical', warning: 'minor', note: 'info' } as const satisfies Record<
  Severity,
  string
>;

/** A code-quality report as merge requests read it: a JSON array of what is found and not waived. */
export function formatCodeQuality(report: Report, { archive }: FormatContext): string {
  const path = archivePath(archive);
  const unique = uniqueNames();
  const issues = report.findings
    .filter(({ waiver }) => waiver === null)
    .map((finding) => issue(finding, path, unique(finding.fingerprint)));
  return `${JSON.stringify(issues, null, 2)}\n`;
}

function issue({ rule, severity, message, remedy, location }: ReportFinding, path: string, fingerprint: string) {
  return {
    description: printable(`${message} ${remedy}`),
    check_name: rule,
    fingerprint,
    severity: SEVERITY_NAMES[severity],
    location: { path, lines: { begin: location.line ?? 1 } },
  };
}

/** Tells equal names apart, as readers merge issues of equal fingerprints; the first keeps its own. */
function uniqueNames(): (name: string) => string {
  const uses = new Map<string, number>();
  return (name) => {
    const use = (uses.get(name) ?? 0) + 1;
    uses.set(name, use);
    return use === 1 ? name : `${name}-${use}`;
  };
}
