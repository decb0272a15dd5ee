import type { PartRead } from '../archive/archive.js';
import { VERDICTS } from '../electrical/balance.js';
import type { Installation, Project } from '../plant/plant.js';
import { deviceLabel, segmentsOf } from '../plant/plant.js';
import { POLICY_SOURCES, type Policy, policyDigest } from '../policy/policy.js';
import { type Rule, type RuleContext, SEVERITIES } from '../rules/rule.js';
import type { RuleRun } from '../rules/run.js';
import { sum } from '../units.js';
import { TOOL } from '../version.js';
import { fingerprintOf } from './fingerprint.js';
import { CAUTION, type Report, type ReportFinding, type ReportProject, type ReportRule } from './report.js';
import { reportSegment } from './segment.js';

/** What the audit of one installation came to. */
export interface AuditedInstallation {
  readonly context: RuleContext;
  readonly run: RuleRun;
}

export interface AuditedArchive {
  readonly sha256: string;
  readonly bytes: number;
  readonly partsRead: readonly PartRead[];
  readonly projects: readonly Project[];
  readonly installations: readonly AuditedInstallation[];
  readonly policy: Policy;
  readonly rules: readonly Rule[];
}

/** Puts the report together; figures and findings are taken over as they are. */
export function buildReport(audited: AuditedArchive): Report {
  const { projects, installations, policy, rules } = audited;
  const segments = installations.flatMap(({ context: { balances, project, installation } }) =>
    balances.map((balance) => reportSegment(balance, project.id, installation.number)),
  );
  const findings = sorted(
    installations.flatMap((installation) => reportFindings(installation, projects.length > 1)),
    rules,
  );
  return {
    reportVersion: 1,
    tool: TOOL,
    archive: { sha256: audited.sha256, bytes: audited.bytes, parts: [...audited.partsRead] },
    policy: { sha256: policyDigest(policy), values: policy, sources: policySources() },
    summary: summarise(audited, segments, findings),
    projects: projects.map(reportProject),
    segments,
    findings,
    coverage: installations.flatMap(reportCoverage),
    rules: rules.map(reportRule),
    caution: CAUTION,
  };
}

function policySources(): Record<string, string> {
  return Object.fromEntries(Object.entries(POLICY_SOURCES).map(([key, { source }]) => [key, source]));
}

function summarise(
  { installations }: AuditedArchive,
  segments: Report['segments'],
  findings: readonly ReportFinding[],
): Report['summary'] {
  const plants = installations.map(({ context }) => context.installation);
  return {
    complete: installations.every(({ run }) => run.failures.length === 0),
    segments: tally(
      VERDICTS,
      segments.map(({ verdict }) => verdict),
    ),
    findings: tally(
      SEVERITIES,
      findings.map(({ severity }) => severity),
    ),
    devicesPlaced: sum(plants.map(placedDevices)),
    devicesUnplaced: sum(plants.map(({ unplaced }) => unplaced.length)),
    currents: countOrigins(segments),
  };
}

function countOrigins(segments: Report['segments']): Report['summary']['currents'] {
  const counts = { declared: 0, overridden: 0, assumed: 0 };
  for (const { devices } of segments) for (const { origin } of devices) if (origin !== null) counts[origin]++;
  return counts;
}

function tally<T extends string>(names: readonly T[], values: readonly T[]): Record<T, number> {
  const counts = Object.fromEntries(names.map((name) => [name, 0])) as Record<T, number>;
  for (const value of values) counts[value]++;
  return counts;
}

function placedDevices(installation: Installation): number {
  return sum(segmentsOf(installation).map(({ devices }) => devices.length));
}

function reportProject({ id, name, schema, schemaKnown, installations }: Project): ReportProject {
  return {
    id,
    name,
    schema,
    schemaKnown,
    installations: installations.map((installation) => ({
      number: installation.number,
      name: installation.name,
      part: installation.part,
      segments: segmentsOf(installation).length,
      devicesPlaced: placedDevices(installation),
      devicesUnplaced: installation.unplaced.length,
      notes: installation.unchargedCouplers.map(
        ({ device, lineAbove }) =>
          `The coupler ${deviceLabel(device)} reaches line ${lineAbove}, which the export does not hold; what it draws there is charged nowhere.`,
      ),
    })),
  };
}

function reportFindings({ context, run }: AuditedInstallation, severalProjects: boolean): ReportFinding[] {
  const { project, installation } = context;
  return run.findings.map(({ rule, finding }) => ({
    rule: rule.id,
    severity: finding.severity ?? rule.severity,
    fingerprint: fingerprintOf(rule.id, finding, installation.number, severalProjects ? project.id : null),
    project: project.id,
    installation: installation.number,
    subject: { kind: finding.subject.kind, id: finding.subject.id, label: finding.subject.label },
    segments: finding.segments.map(({ id }) => id),
    restsOn: finding.restsOn,
    message: finding.message,
    remedy: finding.remedy,
    facts: { ...finding.facts },
  }));
}

/** Worst first, then by rule; within a rule in the order of the plant. */
function sorted(findings: readonly ReportFinding[], rules: readonly Rule[]): ReportFinding[] {
  const order = new Map(rules.map(({ id }, index) => [id, index]));
  const rank = ({ severity, rule }: ReportFinding) =>
    SEVERITIES.indexOf(severity) * rules.length + (order.get(rule) ?? 0);
  return [...findings].sort((a, b) => rank(a) - rank(b));
}

function reportCoverage({ context, run }: AuditedInstallation): Report['coverage'] {
  return run.coverage.map(({ rule, segment, status, missing }) => ({
    rule,
    project: context.project.id,
    installation: context.installation.number,
    segment: segment?.id ?? null,
    status,
    missing,
  }));
}

export function reportRule({ id, title, severity, why, remedy, limit, basis, source }: Rule): ReportRule {
  return { id, title, severity, why, remedy, limit, basis, source };
}
