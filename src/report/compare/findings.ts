import { SEVERITIES } from '../../policy/policy.js';
import type { Report, ReportFinding, ReportSegment } from '../report.js';
import { MATCHED_BY, type MatchedBy } from './comparison.js';
import { type Pair, type Paired, type Pass, pairUp, passBy } from './pair-up.js';

export type FindingState = 'new' | 'fixed' | 'worsened' | 'improved' | 'unchanged';

/** A finding of either report, and what became of it. */
export interface FollowedFinding {
  readonly old: ReportFinding | null;
  readonly new: ReportFinding | null;
  readonly matchedBy: MatchedBy | null;
  readonly state: FindingState;
}

/** Findings in the order of the new report, then those that it does not have, in the order of the old one. */
export function followFindings(old: Report, fresh: Report, segments: Paired<ReportSegment>): FollowedFinding[] {
  const { pairs, onlyOld } = pairUp(old.findings, fresh.findings, passesOf(segments));
  const pairOf = new Map(pairs.map((pair) => [pair.new, pair]));
  return [
    ...fresh.findings.map((finding): FollowedFinding => {
      const pair = pairOf.get(finding);
      if (pair === undefined) return { old: null, new: finding, matchedBy: null, state: 'new' };
      return { ...pair, state: stateOf(pair) };
    }),
    ...onlyOld.map((finding): FollowedFinding => ({ old: finding, new: null, matchedBy: null, state: 'fixed' })),
  ];
}

/** By fingerprint; then by rule and by what the segment concerned has become. */
function passesOf({ pairs }: Paired<ReportSegment>): Pass<ReportFinding>[] {
  return [
    passBy('identity', ({ fingerprint }) => fingerprint),
    ...MATCHED_BY.map((matchedBy): Pass<ReportFinding> => {
      const matched = pairs.filter((pair) => pair.matchedBy === matchedBy);
      return {
        matchedBy,
        oldKey: keyBySegment(
          matched.map((pair) => pair.old),
          matchedBy,
        ),
        newKey: keyBySegment(
          matched.map((pair) => pair.new),
          matchedBy,
        ),
      };
    }),
  ];
}

/** A pair of segments is called by its position in the list. */
function keyBySegment(
  segments: readonly ReportSegment[],
  matchedBy: MatchedBy,
): (finding: ReportFinding) => string | null {
  const positions = new Map(segments.map((segment, position) => [placeKey(segment, segment.id), position]));
  return (finding) => {
    const subject = subjectKey(finding, matchedBy);
    const position = positions.get(placeKey(finding, finding.segments[0] ?? ''));
    return subject === null || position === undefined ? null : JSON.stringify([finding.rule, subject, position]);
  };
}

function placeKey({ project, installation }: { project: string; installation: number }, id: string): string {
  return JSON.stringify([project, installation, id]);
}

/** What stands on a segment goes by its label only where the ids of the archive have changed altogether. */
function subjectKey({ subject }: ReportFinding, matchedBy: MatchedBy): string | null {
  if (subject.kind === 'segment' || subject.kind === 'line') return subject.kind;
  return matchedBy === 'identity' ? null : `${subject.kind} ${subject.label}`;
}

/** Margins are in thousandths; what is smaller than this is no difference. */
const SMALLEST = 1e-9;

/** Severity goes first, then whether it is accepted, then its figure. */
function stateOf({ old, new: fresh }: Pair<ReportFinding>): FindingState {
  const worse =
    SEVERITIES.indexOf(old.severity) - SEVERITIES.indexOf(fresh.severity) ||
    Number(old.waiver !== null) - Number(fresh.waiver !== null) ||
    lostMargin(old.measure, fresh.measure);
  if (worse === 0) return 'unchanged';
  return worse > 0 ? 'worsened' : 'improved';
}

/** Where nobody knows the limit, the figure itself tells. */
function lostValue(old: ReportFinding['measure'], fresh: ReportFinding['measure']): number {
  if (old.value === null || fresh.value === null) return 0;
  return fresh.holds === 'at least' ? old.value - fresh.value : fresh.value - old.value;
}

/** How much nearer to the wrong side a figure has come; 0 for figures that cannot be held against each other. */
function lostMargin(old: ReportFinding['measure'], fresh: ReportFinding['measure']): number {
  if (old.quantity !== fresh.quantity || old.unit !== fresh.unit) return 0;
  const lost = old.margin === null || fresh.margin === null ? lostValue(old, fresh) : old.margin - fresh.margin;
  return Math.abs(lost) > SMALLEST ? lost : 0;
}
