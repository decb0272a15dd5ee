import type { Report, ReportFinding } from '../report.js';
import { compareReports } from './compare.js';
import type { Cause, Comparison } from './comparison.js';
import { type FindingState, type FollowedFinding, followFindings } from './findings.js';
import { matchSegments } from './segments.js';

/** Reports of one archive. */
export interface UnderBothPolicies {
  readonly oldPolicy: Report;
  readonly newPolicy: Report;
}

/** Two archives, each audited under two policies. */
export interface CrosswiseReports {
  readonly oldArchive: UnderBothPolicies;
  readonly newArchive: UnderBothPolicies;
}

/** Compares the old archive under the old policy with the new one under the new policy, and tells what made each change. */
export function compareCrosswise(reports: CrosswiseReports): Comparison {
  const { oldArchive, newArchive } = reports;
  const steps: Steps = {
    archiveUnderOldPolicy: stepBetween(oldArchive.oldPolicy, newArchive.oldPolicy),
    archiveUnderNewPolicy: stepBetween(oldArchive.newPolicy, newArchive.newPolicy),
    policyOverOldArchive: stepBetween(oldArchive.oldPolicy, oldArchive.newPolicy),
    policyOverNewArchive: stepBetween(newArchive.oldPolicy, newArchive.newPolicy),
  };
  return compareReports(oldArchive.oldPolicy, newArchive.newPolicy, (followed) => causeOf(followed, steps));
}

/** What became of the findings where one of archive and policy changes and the other is held fixed. */
interface Steps {
  readonly archiveUnderOldPolicy: Step;
  readonly archiveUnderNewPolicy: Step;
  readonly policyOverOldArchive: Step;
  readonly policyOverNewArchive: Step;
}

/** Findings by the state that they came to; they are known by what both reports of one archive call them. */
interface Step {
  readonly old: ReadonlyMap<string, FindingState>;
  readonly new: ReadonlyMap<string, FindingState>;
}

function stepBetween(old: Report, fresh: Report): Step {
  const followed = followFindings(old, fresh, matchSegments(old, fresh));
  return { old: statesBy('old', followed), new: statesBy('new', followed) };
}

function statesBy(side: 'old' | 'new', followed: readonly FollowedFinding[]): Map<string, FindingState> {
  return new Map(followed.flatMap((one) => (one[side] === null ? [] : [[keyOf(one[side]), one.state]])));
}

/** Two devices that share two addresses make two findings of one fingerprint; the label tells them apart. */
function keyOf({ fingerprint, subject }: ReportFinding): string {
  return `${fingerprint} ${subject.label}`;
}

/** The archive, or the policy, made a change that it makes alone, whichever the other one is. */
function causeOf({ old, new: fresh, state }: FollowedFinding, steps: Steps): Cause {
  const byOld = (step: Step) => old !== null && step.old.get(keyOf(old)) === state;
  const byNew = (step: Step) => fresh !== null && step.new.get(keyOf(fresh)) === state;
  const { archiveUnderOldPolicy, archiveUnderNewPolicy, policyOverOldArchive, policyOverNewArchive } = steps;
  let archive = byOld(archiveUnderOldPolicy) && byNew(archiveUnderNewPolicy);
  let policy = byOld(policyOverOldArchive) && byNew(policyOverNewArchive);
  if (old === null) {
    // The policy alone brings it to the old archive too if the new archive adds nothing under the new policy.
    archive = byNew(archiveUnderOldPolicy) && byNew(archiveUnderNewPolicy);
    policy = byNew(policyOverNewArchive) && !byNew(archiveUnderNewPolicy);
  } else if (fresh === null) {
    archive = byOld(archiveUnderOldPolicy) && byOld(archiveUnderNewPolicy);
    policy = byOld(policyOverOldArchive) && !byOld(archiveUnderOldPolicy);
  }
  if (archive === policy) return 'both';
  return archive ? 'archive' : 'policy';
}
