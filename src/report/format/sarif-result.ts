import type { Location, Result, Suppression } from 'sarif';
import type { ReportFinding, WaiverMark } from '../report.js';
import { printable } from './layout.js';

/** Where the parts of a run are, by their position in its lists. */
export interface RunIndex {
  readonly archiveUri: string;
  /** The rules' positions, by id. */
  readonly rules: ReadonlyMap<string, number>;
  /** The artifacts' positions, by the part's name; the archive itself is the first. */
  readonly parts: ReadonlyMap<string, number>;
}

const BASELINE_STATES = { new: 'new', worsened: 'updated', improved: 'updated', unchanged: 'unchanged' } as const;

/** A finding as SARIF has it (OASIS SARIF 2.1.0, 3.27). */
export function sarifResult(finding: ReportFinding, index: RunIndex): Result {
  const { rule, severity, message, remedy, fingerprint, waiver, sinceBaseline } = finding;
  const { measure, restsOn, segments, project, installation, facts } = finding;
  const ruleIndex = index.rules.get(rule);
  return {
    ruleId: rule,
    ...(ruleIndex !== undefined && { ruleIndex }),
    level: severity,
    message: { text: messageText(`${message} ${remedy}`) },
    locations: [locationOf(finding, index)],
    partialFingerprints: { primaryLocationLineHash: fingerprint, 'linebudgetFingerprint/v1': fingerprint },
    // An empty list says that it is not waived; without one that would not be known (3.27.23, from memory, not confirmed).
    suppressions: waiver === null ? [] : [suppression(waiver)],
    ...(sinceBaseline !== null && { baselineState: BASELINE_STATES[sinceBaseline] }),
    properties: { measure, restsOn, segments, project, installation, sinceBaseline, facts, ...placeOf(finding, index) },
  };
}

/** Upload services show results on files of the repository only: the archive. The logical location says where in it. */
function locationOf({ subject, location }: ReportFinding, { archiveUri }: RunIndex): Location {
  return {
    physicalLocation: {
      artifactLocation: { uri: archiveUri, index: 0 },
      region: { startLine: location.line ?? 1 },
    },
    logicalLocations: [
      {
        name: printable(subject.label),
        fullyQualifiedName: printable(`${location.part}#${subject.id}`),
        kind: subject.kind,
      },
    ],
  };
}

function placeOf({ location: { part, line } }: ReportFinding, { parts }: RunIndex) {
  return { part, partLine: line, partArtifactIndex: parts.get(part) ?? null };
}

function suppression({ reason, author, expires, accepted, raiseAbove }: WaiverMark): Suppression {
  return {
    kind: 'external',
    status: 'accepted',
    justification: printable(`${reason} (${author}, until ${expires})`),
    properties: { reason, author, expires, accepted, raiseAbove },
  };
}

/**
 * A text as a message: brackets would make links, braces placeholders (OASIS SARIF 2.1.0, 3.11.5 and 3.11.6, from
 * memory, not confirmed).
 */
function messageText(text: string): string {
  return printable(text)
    .replace(/\\(?=\\*[[\]])|[[\]]/g, '\\$&')
    .replace(/[{}]/g, '$&$&');
}
