import type { Figure, Waiver } from '../policy/waivers.js';
import type { Words } from '../words/words.js';

/** A waiver, and what came of it when it was held against the findings. */
export interface JudgedWaiver {
  readonly waiver: Waiver;
  /** The day on which it was judged, UTC. */
  readonly asOf: string;
  readonly outcome: WaiverOutcome;
}

export type WaiverOutcome =
  | { readonly is: 'in force' }
  /** Nobody can tell: the rule that it is for failed by our own fault. */
  | { readonly is: 'not judged' }
  | { readonly is: 'unused'; readonly because: UnusedBecause }
  | { readonly is: 'expired'; readonly days: number }
  | ({ readonly is: 'outgrown'; readonly value: number } & HeldAgainst)
  | ({ readonly is: 'incomparable'; readonly because: IncomparableBecause } & HeldAgainst);

export type UnusedBecause =
  | { readonly is: 'nothing found' }
  | { readonly is: 'other rule'; readonly rule: string }
  | { readonly is: 'rule off' };

export type IncomparableBecause =
  | { readonly is: 'no figure' }
  | { readonly is: 'no share' }
  | { readonly is: 'other unit'; readonly unit: string };

/** The figure that was accepted, and which of the finding's it is held against. */
interface HeldAgainst {
  readonly quantity: string;
  readonly limit: Figure;
  /** Whether less is worse than what was accepted, not more. */
  readonly isFloor: boolean;
}

/** What a waiver is for, as texts say it. */
export function waiverLabel({ subject, rule }: Waiver): string {
  return subject ?? rule;
}

/** What every finding about a waiver states. */
export function waiverFacts({ waiver, asOf }: JudgedWaiver, { facts }: Words) {
  const { fingerprint, rule, subject, reason, author, expires, accepted, raiseAbove } = waiver;
  return {
    waived: facts.waivers.waived(rule, subject),
    fingerprint,
    reason,
    author,
    expires,
    accepted: accepted ?? null,
    raiseAbove: raiseAbove ?? null,
    asOf,
  };
}
