import type { Policy } from '../policy/policy.js';
import { fromMa, toA } from '../units.js';
import { CHOKE_DROP } from './standard.js';

/** How far the cable of a segment may reach, and what binds. */
export interface Reach {
  readonly lengthM: number;
  readonly boundBy: 'voltage' | 'distance';
}

export interface ReachAtVoltage {
  readonly supplyV: number;
  /** The whole load at the end of the run: what holds whatever the arrangement. */
  readonly allAtEnd: Reach;
  /** The load spread evenly along the run. */
  readonly evenlySpread: Reach;
}

export interface ReachFigures {
  readonly typical: ReachAtVoltage;
  readonly least: ReachAtVoltage;
}

const M_PER_KM = 1000;

/**
 * Reach of a segment of which no cable data is known. With the whole load at the end the drop is r·l·I, so
 * l = (V − V_least)/(r·I) by Ohm's law; spread evenly the mean current is half, and l twice that.
 * @param loadUa whole load of the segment, µA
 * @param largestRatingUa largest supply, µA, for the drop over its choke; null takes the greater drop
 */
export function reachOf(loadUa: number, largestRatingUa: number | null, policy: Policy): ReachFigures {
  const leastV = policy.leastSupplyV - chokeDropV(largestRatingUa);
  return {
    typical: reachAt(policy.typicalSupplyV, loadUa, policy),
    least: reachAt(leastV, loadUa, policy),
  };
}

/** Drop over the choke of a supply, V. */
export function chokeDropV(ratingUa: number | null): number {
  return ratingUa !== null && ratingUa <= fromMa(CHOKE_DROP.upToMa) ? CHOKE_DROP.dropV : CHOKE_DROP.aboveV;
}

function reachAt(supplyV: number, loadUa: number, policy: Policy): ReachAtVoltage {
  const dropPerMetreV = (policy.loopOhmPerKm / M_PER_KM) * toA(loadUa);
  const allowedDropV = Math.max(0, supplyV - policy.leastDeviceV);
  const lengthM = dropPerMetreV === 0 ? Number.POSITIVE_INFINITY : allowedDropV / dropPerMetreV;
  return {
    supplyV,
    allAtEnd: bounded(lengthM, policy.supplyToDeviceM),
    evenlySpread: bounded(2 * lengthM, policy.supplyToDeviceM),
  };
}

/** Whole decimetres, rounded down so that no figure promises more than there is. */
function bounded(lengthM: number, limitM: number): Reach {
  if (lengthM >= limitM) return { lengthM: limitM, boundBy: 'distance' };
  return { lengthM: Math.floor(lengthM * 10) / 10, boundBy: 'voltage' };
}
