import type { Supply } from '../plant/plant.js';
import { fromMa, greatest, sum } from '../units.js';
import {
  CENTRAL_SUPPLIES,
  DECENTRAL_RATING_MA,
  DECENTRAL_SUPPLIES,
  SHORT_CIRCUIT_MA,
  SHORT_CIRCUIT_SUM_MA,
} from './standard.js';

/** What the supplies of one electrical segment can deliver together. */
export interface Capacity {
  /** Sum of the known ratings, µA. */
  readonly ratedUa: number;
  /** Supplies whose rating is not declared. */
  readonly unrated: number;
  /** Supplies that count as central: all but those declared up to 80 mA. */
  readonly central: number;
  readonly decentral: number;
  /** Sum of the greatest short-circuit currents of the rated central supplies, µA; a lower bound if some are unrated. */
  readonly shortCircuitUa: number;
  /** More central or decentral supplies than a segment may have. */
  readonly tooMany: boolean;
  /** The short-circuit currents together are beyond the standard's sum. */
  readonly shortCircuitExceeded: boolean;
  /** What may be drawn, µA; null if a rating is unknown, the combination is not admissible, or there is no supply. */
  readonly usableUa: number | null;
  /** What is left when the largest supply fails, µA; null as above. */
  readonly withoutLargestUa: number | null;
}

/** Ratings add up only for combinations that the standard admits; otherwise nothing is promised. */
export function capacityOf(supplies: readonly Supply[]): Capacity {
  const ratings = supplies.flatMap(({ ratingUa }) => (ratingUa === null ? [] : [ratingUa]));
  const decentral = ratings.filter(isDecentral).length;
  const central = supplies.length - decentral;
  const ratedUa = sum(ratings);
  const shortCircuitUa = sum(ratings.map(shortCircuitOf));
  const tooMany = central > CENTRAL_SUPPLIES || decentral > DECENTRAL_SUPPLIES;
  const shortCircuitExceeded = shortCircuitUa > fromMa(SHORT_CIRCUIT_SUM_MA);
  const unrated = supplies.length - ratings.length;
  const isUsable = supplies.length > 0 && unrated === 0 && !tooMany && !shortCircuitExceeded;
  return {
    ratedUa,
    unrated,
    central,
    decentral,
    shortCircuitUa,
    tooMany,
    shortCircuitExceeded,
    usableUa: isUsable ? ratedUa : null,
    withoutLargestUa: isUsable ? ratedUa - greatest(ratings) : null,
  };
}

/**
 * Greatest short-circuit current of a supply, µA. A rating that the standard does not list takes the next higher row,
 * one above the table its last row; decentral supplies have rules of their own and do not count.
 */
export function shortCircuitOf(ratingUa: number): number {
  if (isDecentral(ratingUa)) return 0;
  const row = SHORT_CIRCUIT_MA.find(({ ratingMa }) => ratingUa <= fromMa(ratingMa)) ?? SHORT_CIRCUIT_MA.at(-1);
  return fromMa(row?.currentMa ?? 0);
}

/** A supply that counts as decentral, which has rules of its own (volume 9/2 §6). */
export function isDecentral(ratingUa: number): boolean {
  return ratingUa <= fromMa(DECENTRAL_RATING_MA);
}
