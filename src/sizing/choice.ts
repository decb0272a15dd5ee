import type { Supply } from '../plant/plant.js';
import type { SupplyKind } from '../policy/policy.js';

export const PROPOSED_ACTIONS = ['stays', 'add', 'remove', 'replace', 'order', 'split', 'none'] as const;

/**
 * What is to be done about the supplies of a segment. `stays`: what is there is right; `order`: there is none yet;
 * `split`: nothing that may be ordered carries the segment as a whole; `none`: nothing can be proposed.
 */
export type ProposedAction = (typeof PROPOSED_ACTIONS)[number];

/** A supply that may be ordered, in one of the kinds that it is to be had in. */
export interface StockUnit {
  readonly ratingUa: number;
  readonly kind: SupplyKind;
  readonly orderNumber: string | null;
  /** In units of 18 mm. */
  readonly railUnits: number | null;
  /** Of one, in hundredths of the office's currency. */
  readonly priceHundredths: number | null;
  /** Position of its entry in the policy's stock. */
  readonly entry: number;
}

/** Supplies for a segment: of those there now the ones that stay and the ones that go, and what is bought. */
export interface Choice {
  readonly kept: readonly Supply[];
  readonly removed: readonly Supply[];
  readonly added: readonly StockUnit[];
}

/** A unit to be bought, as a supply of the plant that is not there yet. */
export interface ProposedUnit {
  readonly unit: StockUnit;
  readonly supply: Supply;
}

/** A place on the cable, and what is to be heeded there. */
export interface Placing {
  /** Name of the point in the site sheet; null where it does not tell. */
  readonly at: string | null;
  /** Shares the choke of the other supply, as no place on the cable is far enough away; null where nobody knows. */
  readonly sharesChoke: boolean | null;
}

/** The lowest voltage at a device, as far as it is known, V; rounded nowhere. */
export interface LowestVoltages {
  readonly isDecided: boolean;
  readonly typicalV: number | null;
  readonly leastV: number | null;
}

/** A choice that meets every condition. */
export interface FittingChoice extends Choice {
  /** Those that stay in any case, as they are decentral, or the coupler as well. */
  readonly fixed: readonly Supply[];
  /** Sum of the ratings, those included that stay in any case, µA. */
  readonly ratedUa: number;
  /** Target share of it, µA. */
  readonly targetUa: number;
  /** What is left of the target with the load and what is planned, µA. */
  readonly marginUa: number;
  /** Of what is bought, hundredths of the office's currency; null where a price is not known. */
  readonly priceHundredths: number | null;
  /** Of each of {@link Choice.added}. */
  readonly placings: readonly Placing[];
  /** Null where no site sheet tells of the cable. */
  readonly lowest: LowestVoltages | null;
}
