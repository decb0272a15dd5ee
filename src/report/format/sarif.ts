import type { Artifact, Invocation, Log, Notification, Run } from 'sarif';
import type { Report, ReportFinding } from '../report.js';
import { archiveUri, uriPath } from './archive-path.js';
import type { FormatContext } from './context.js';
import { type RunIndex, sarifResult } from './sarif-result.js';
import { sarifRule } from './sarif-rule.js';
import { INCOMPLETE, summaryLine } from './text.js';

const SCHEMA = 'https://json.schemastore.org/sarif-2.1.0.json';

/** More results are refused by code-scanning services (from memory, not confirmed). */
const MOST_RESULTS = 25_000;

/** SARIF 2.1.0 (OASIS standard), as code-scanning services take it in. */
export function formatSarif(report: Report, context: FormatContext): string {
  const log: Log = { $schema: SCHEMA, version: '2.1.0', runs: [runOf(report, context)] };
  return `${JSON.stringify(log, null, 2)}\n`;
}

function runOf(report: Report, { archive }: FormatContext): Run {
  const { tool, rules, findings } = report;
  const shown = worstOf(findings);
  // A plan has no parts: its lines are those of the file.
  const parts = report.source === 'plan' ? [] : [...new Set(shown.map(({ location }) => location.part))];
  const index: RunIndex = {
    archiveUri: archiveUri(archive),
    rules: new Map(rules.map(({ id }, position) => [id, position])),
    parts: new Map(parts.map((part, position) => [part, position + 1])),
  };
  return {
    tool: { driver: { name: tool.name, version: tool.version, rules: rules.map(sarifRule) } },
    // What is before the last slash is the category; results of a category replace its earlier ones (from memory, not
    // confirmed).
    automationDetails: { id: `${tool.name}/${index.archiveUri}/` },
    invocations: [invocationOf(report, shown.length, index)],
    artifacts: artifactsOf(report, index),
    results: shown.map((finding) => sarifResult(finding, index)),
    properties: propertiesOf(report),
  };
}

/** As many as may be written; where there are more, waived ones give way first, then the least. */
function worstOf(findings: readonly ReportFinding[]): readonly ReportFinding[] {
  if (findings.length <= MOST_RESULTS) return findings;
  const open = findings.filter(({ waiver }) => waiver === null);
  const waived = findings.filter(({ waiver }) => waiver !== null);
  return [...open, ...waived].slice(0, MOST_RESULTS);
}

function invocationOf(report: Report, shown: number, { rules }: RunIndex): Invocation {
  const total = report.findings.length;
  const cut: Notification[] =
    shown === total
      ? []
      : [
          {
            level: 'warning',
            message: { text: `${shown} shown of ${total} findings, the worst; the JSON report has all of them.` },
            properties: { shown, total },
          },
        ];
  const failed = new Set(report.coverage.filter(({ status }) => status === 'failed').map(({ rule }) => rule));
  const failures = [...failed].map(
    (id): Notification => ({
      level: 'error',
      message: { text: INCOMPLETE },
      associatedRule: { id, ...(rules.has(id) && { index: rules.get(id) as number }) },
    }),
  );
  return {
    executionSuccessful: report.summary.complete && report.summary.checks > 0,
    toolExecutionNotifications: [...cut, ...failures],
  };
}

/** The archive, and in it the parts that results point into. */
function artifactsOf({ archive }: Report, { archiveUri: uri, parts }: RunIndex): Artifact[] {
  const bytes = new Map(archive.parts.map((part) => [part.name, part.bytes]));
  const nested = [...parts.keys()].map((part): Artifact => {
    const length = bytes.get(part);
    return { location: { uri: uriPath(part) }, parentIndex: 0, ...(length !== undefined && { length }) };
  });
  const whole: Artifact = {
    location: { uri },
    length: archive.bytes,
    roles: ['analysisTarget'],
    hashes: { 'sha-256': archive.sha256 },
  };
  return [whole, ...nested];
}

function propertiesOf(report: Report): Run['properties'] {
  const { reportVersion, archive, policy, asOf, baseline, summary, caution } = report;
  return {
    reportVersion,
    verdict: summaryLine(report),
    summary,
    archiveSha256: archive.sha256,
    policySha256: policy.sha256,
    asOf,
    baseline,
    caution,
  };
}
