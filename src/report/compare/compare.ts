import { TOOL } from '../../version.js';
import type { Report, ReportFinding } from '../report.js';
import type { Cause, ComparedReport, Comparison, FindingChange, FindingSide } from './comparison.js';
import { type FindingState, type FollowedFinding, followFindings } from './findings.js';
import { compareSegments, matchSegments } from './segments.js';

/** What made a change, where that is known. */
export type CauseOf = (followed: FollowedFinding) => Cause | null;

/**
 * Holds a report against an earlier one. Reports alone do not tell what made a change; `inputs` tells what can have.
 * @param causeOf where more than the two reports is known
 */
export function compareReports(old: Report, fresh: Report, causeOf: CauseOf = () => null): Comparison {
  const segments = matchSegments(old, fresh);
  const followed = followFindings(old, fresh, segments);
  const sides = { old: comparedReport(old), new: comparedReport(fresh) };
  const changes = (state: FindingState) =>
    followed.filter((one) => one.state === state).flatMap((one) => changeOf(one, causeOf(one)));
  return {
    comparisonVersion: 1,
    tool: TOOL,
    ...sides,
    inputs: inputsOf(sides.old, sides.new),
    changes: null,
    findings: {
      new: changes('new'),
      fixed: changes('fixed'),
      worsened: changes('worsened'),
      improved: changes('improved'),
      unchanged: followed.filter(({ state }) => state === 'unchanged').length,
    },
    ...compareSegments(segments),
  };
}

/** A tool as a comparison names it. */
export function toolName({ name, version }: Report['tool']): string {
  return `${name} ${version}`;
}

function comparedReport({ archive, policy, site, tool, asOf, summary }: Report): ComparedReport {
  return {
    archiveSha256: archive.sha256,
    policySha256: policy.sha256,
    siteSha256: site?.sha256 ?? null,
    toolVersion: toolName(tool),
    asOf,
    complete: summary.complete,
    checks: summary.checks,
  };
}

function inputsOf(old: ComparedReport, fresh: ComparedReport): Comparison['inputs'] {
  const held = (name: keyof ComparedReport) => (old[name] === fresh[name] ? 'same' : 'differs');
  return {
    archive: held('archiveSha256'),
    policy: held('policySha256'),
    site: held('siteSha256'),
    tool: held('toolVersion'),
    asOf: held('asOf'),
  };
}

function changeOf({ old, new: fresh, matchedBy }: FollowedFinding, cause: Cause | null): FindingChange[] {
  const shown = fresh ?? old;
  if (shown === null) return [];
  const { rule, subject, message, remedy, fingerprint } = shown;
  return [
    {
      rule,
      subject: subject.label,
      message,
      remedy,
      fingerprint,
      matchedBy,
      cause,
      old: old && findingSide(old),
      new: fresh && findingSide(fresh),
    },
  ];
}

function findingSide({ severity, measure, waiver }: ReportFinding): FindingSide {
  const { quantity, unit, value, limit, holds, margin } = measure;
  return { severity, measure: { quantity, unit, value, limit, holds, margin }, waived: waiver !== null };
}
