import { toolName } from './compare/compare.js';
import { type FindingState, followFindings } from './compare/findings.js';
import { matchSegments } from './compare/segments.js';
import type { Report, ReportFinding } from './report.js';

/** The report with what became of each finding since an earlier one. Waivers are marked before, as they count too. */
export function againstBaseline(report: Report, baseline: Report): Report {
  const followed = followFindings(baseline, report, matchSegments(baseline, report));
  return {
    ...report,
    baseline: {
      sha256: baseline.archive.sha256,
      policySha256: baseline.policy.sha256,
      tool: toolName(baseline.tool),
    },
    findings: followed.flatMap(({ new: finding, state }) =>
      finding === null ? [] : [{ ...finding, sinceBaseline: sinceOf(state) }],
    ),
  };
}

/** Findings that the report has are never fixed. */
function sinceOf(state: FindingState): ReportFinding['sinceBaseline'] {
  return state === 'fixed' ? null : state;
}
