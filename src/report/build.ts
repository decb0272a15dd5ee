import type { PartRead } from '../archive/archive.js';
import { VERDICTS } from '../electrical/verdict.js';
import type { Installation, Project } from '../plant/plant.js';
import { deviceLabel, segmentsOf } from '../plant/plant.js';
import { DEFAULT_POLICY, type EffectivePolicy } from '../policy/effective.js';
import { type Severity, severitySet } from '../policy/policy.js';
import type { RawFinding, Rule, RuleContext } from '../rules/rule.js';
import type { RuleRun } from '../rules/run.js';
import type { Proposals } from '../sizing/proposals.js';
import { sum } from '../units.js';
import { TOOL } from '../version.js';
import type { Words } from '../words/words.js';
import { countFindings, tally, worstFirst } from './findings.js';
import { fingerprintOf } from './fingerprint.js';
import { reportMeasure } from './measure.js';
import { notScheduledOf } from './not-scheduled.js';
import { reportPolicy } from './policy.js';
import type { Report, ReportFinding, ReportProject, ReportRule, Source } from './report.js';
import { scheduleOf } from './schedule.js';
import { reportSegment } from './segment.js';
import { reportNewMainLine } from './split-plan.js';
import { unknownsOf } from './unknowns.js';

/** What the audit of one installation came to. */
export interface AuditedInstallation {
  readonly context: RuleContext;
  readonly run: RuleRun;
  readonly proposals: Proposals;
}

/** What was audited, as a file. */
export interface AuditedFile {
  readonly source: Source;
  readonly sha256: string;
  readonly bytes: number;
  readonly partsRead: readonly PartRead[];
}

export interface AuditedArchive extends AuditedFile {
  readonly projects: readonly Project[];
  readonly installations: readonly AuditedInstallation[];
  readonly policy: EffectivePolicy;
  /** Digest of the site sheet. */
  readonly siteSha256: string | null;
  readonly rules: readonly Rule[];
  readonly words: Words;
}

/** Puts the report together; figures and findings are taken over as they are. */
export function buildReport(audited: AuditedArchive): Report {
  const { projects, installations, policy, rules, words } = audited;
  const segments = installations.flatMap(reportSegments);
  const findings = worstFirst(
    installations.flatMap((installation) => reportFindings(installation, projects.length > 1, policy)),
    rules,
  );
  return {
    reportVersion: 1,
    tool: TOOL,
    source: audited.source,
    archive: { sha256: audited.sha256, bytes: audited.bytes, parts: [...audited.partsRead] },
    policy: reportPolicy(
      policy,
      installations.flatMap(({ context }) => context.balances),
    ),
    site: audited.siteSha256 === null ? null : { sha256: audited.siteSha256 },
    asOf: null,
    baseline: null,
    summary: summarise(audited, segments, findings),
    projects: projects.map((project) => reportProject(project, audited)),
    segments,
    findings,
    unknowns: unknownsOf(installations.map(({ context }) => context)),
    newMainLines: installations.flatMap(reportMainLines),
    schedule: installations.flatMap(({ context, proposals }) => scheduleOf(context, proposals)),
    notScheduled: installations.flatMap(({ context, proposals }) => notScheduledOf(context, proposals)),
    coverage: installations.flatMap(reportCoverage),
    rules: rules.map((rule) => reportRule(rule, policy)),
    caution: words.report.caution,
  };
}

function reportSegments({ context, proposals }: AuditedInstallation): Report['segments'] {
  const { balances, project, installation, site, words } = context;
  const place = { project: project.id, installation: installation.number, site, words };
  return balances.flatMap((balance) => {
    const proposal = proposals.bySegment.get(balance.segment);
    return proposal === undefined ? [] : [reportSegment(balance, proposal, place)];
  });
}

function reportMainLines({ context, proposals }: AuditedInstallation): Report['newMainLines'] {
  const { project, installation } = context;
  return proposals.newMainLines.map((line) => ({
    project: project.id,
    installation: installation.number,
    ...reportNewMainLine(line),
  }));
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
    findings: countFindings(findings),
    waived: 0,
    checks: countChecks(installations),
    devicesPlaced: sum(plants.map(placedDevices)),
    devicesUnplaced: sum(plants.map(({ unplaced }) => unplaced.length)),
    currents: countOrigins(segments),
  };
}

/** How often a rule came to a judgement. */
function countChecks(installations: AuditedArchive['installations']): number {
  let checks = 0;
  for (const { run } of installations)
    for (const { status } of run.coverage) if (status === 'passed' || status === 'found') checks++;
  return checks;
}

function countOrigins(segments: Report['segments']): Report['summary']['currents'] {
  const counts = { declared: 0, overridden: 0, assumed: 0 };
  for (const { devices } of segments) for (const { origin } of devices) if (origin !== null) counts[origin]++;
  return counts;
}

function placedDevices(installation: Installation): number {
  return sum(segmentsOf(installation).map(({ devices }) => devices.length));
}

function reportProject(
  { id, name, schema, schemaKnown, installations }: Project,
  { source, words: { report } }: AuditedArchive,
): ReportProject {
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
      notes: installation.unchargedCouplers.map(({ device, lineAbove }) =>
        report.notes.uncharged({ coupler: deviceLabel(device), lineAbove, source }),
      ),
    })),
  };
}

function reportFindings(
  { context, run }: AuditedInstallation,
  severalProjects: boolean,
  policy: EffectivePolicy,
): ReportFinding[] {
  const { project, installation } = context;
  return run.findings.map(({ rule, finding }) => ({
    rule: rule.id,
    severity: severityOf(rule, finding, policy),
    fingerprint: fingerprintOf(rule.id, finding, installation.number, severalProjects ? project.id : null),
    project: project.id,
    installation: installation.number,
    subject: { kind: finding.subject.kind, id: finding.subject.id, label: finding.subject.label },
    segments: finding.segments.map(({ id }) => id),
    restsOn: finding.restsOn,
    measure: reportMeasure(finding.measure, rule, policy),
    location: { part: finding.subject.place.part ?? installation.part, line: finding.subject.place.line ?? null },
    waiver: null,
    sinceBaseline: null,
    message: finding.message,
    remedy: finding.remedy,
    facts: { ...finding.facts },
  }));
}

/** The policy's severity goes before the finding's own, and that before the rule's; of rules that are off there are none. */
function severityOf(rule: Rule, finding: RawFinding, { values }: EffectivePolicy): Severity {
  const wanted = severitySet(rule.id, values);
  return wanted === undefined || wanted === 'off' ? (finding.severity ?? rule.severity) : wanted;
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

export function reportRule(rule: Rule, { values }: EffectivePolicy = DEFAULT_POLICY): ReportRule {
  const { id, title, severity, why, remedy, limit, basis, source } = rule;
  return {
    id,
    title,
    severity,
    inForce: severitySet(id, values) ?? severity,
    why,
    remedy,
    limit,
    basis,
    source,
  };
}
