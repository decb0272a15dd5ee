/** Facts that the texts of several rules are made from, whatever the language. */

/** What was audited: an export, or a plan before there is one. */
export type Source = 'archive' | 'plan';

/** What a segment is charged with, and together with which others where they share supplies. */
export interface Charged {
  readonly segment: string;
  readonly sharedWith: readonly string[];
  readonly loadMa: number;
  readonly auxiliaryMa: number;
}

/** How much of a load is assumed. */
export interface AssumedPart {
  readonly assumedMa: number;
  readonly assumedItems: number;
}

/** The supply that a load would take. */
export interface Wanted {
  readonly suggestedRatingMa: number | null;
  readonly plannedMa: number;
}

/** Devices of a product on one segment. */
export interface PlaceFacts {
  readonly segment: string;
  readonly devices: readonly string[];
}

/** At which average current of a product the verdict of a segment turns. */
export interface TurnFacts {
  readonly segment: string;
  readonly toTightMa: number | null;
  readonly toInsufficientMa: number | null;
}

/** A length that is beyond its limit. */
export interface LengthFacts {
  readonly segment: string;
  /** What it is at least, m. */
  readonly lengthM: number;
  /** Whether it is no more than that either. */
  readonly isExact: boolean;
  readonly limitM: number;
  readonly excessM: number;
}

/** A waiver as a finding about it tells it. */
export interface WaivedFacts {
  readonly waived: string;
  readonly author: string;
  readonly reason: string;
  readonly expires: string;
  readonly asOf: string;
}

/** What is to be done about supplies, as the report names it. */
export type ActionName = 'stays' | 'add' | 'remove' | 'replace' | 'order' | 'split' | 'none';

/** Supplies as a choice tells them, each a text of its own. */
export interface ChoiceFacts {
  readonly kept: readonly string[];
  readonly removed: readonly string[];
  readonly added: readonly string[];
}

/** What is proved of a split, and what might still be better. */
export interface PlanFacts {
  readonly method: 'optimal' | 'within the time' | 'heuristic';
  readonly lowerBound: number;
  readonly pieces: number;
  readonly torn: number;
  readonly gapSegments: number;
  readonly gapTorn: number;
  readonly gapEvenMa: number;
}
