import type { Balance } from '../../electrical/balance.js';
import type { Line, Segment } from '../../plant/plant.js';
import { remembered } from '../../plant/remembered.js';
import type { Policy } from '../../policy/policy.js';
import { demandOf, type NewCouplers } from '../demand.js';
import type { Sized } from '../sized.js';
import { type Reach, reachOf } from './nearness.js';
import type { Places } from './places.js';
import { addressesLeft, placesLeft, roomOf } from './room.js';

/** Couplers of lines that are proposed, by the segment that they would hang on. */
export type CouplersOn = (segment: Segment) => NewCouplers;

/** A segment that devices can move to. */
export interface Target {
  readonly segment: Segment;
  /** What it can take and still keep to its target, with what is planned for it, µA. */
  readonly roomUa: number;
  /** Participants, with those that are planned. */
  readonly placesUsed: number;
  /** How many devices it can take from a segment: the line's addresses count for those of another line. */
  readonly placesFor: (from: Segment) => number;
  readonly reach: Reach;
  readonly hasVoltages: boolean;
}

/**
 * The segments that carry more than their load, those with the most room first and then in the order of the documents.
 * None that shares its supplies: what it takes, others lack. None of which the voltages are known not to hold.
 */
export function targetsOf(
  sized: Omit<Sized, 'installation'>,
  places: Places,
  couplersOn: CouplersOn,
): readonly Target[] {
  const { balances, site, policy } = sized;
  const addressesOf = remembered(addressesLeft);
  const targets = balances.flatMap((balance): Target[] => {
    if (balance.verdict !== 'sufficient' || !voltagesAllow(balance)) return [];
    const couplers = couplersOn(balance.segment);
    const demand = demandOf(balance, sized, couplers);
    if ('because' in demand || demand.segments.length > 1) return [];
    const roomUa = roomOf(demand, policy) ?? 0;
    return roomUa <= 0
      ? []
      : [targetOf(balance, { roomUa, reach: reachOf(balance.segment, places, site), addressesOf, policy, couplers })];
  });
  return targets.sort((a, b) => b.roomUa - a.roomUa);
}

interface Found extends Pick<Target, 'roomUa' | 'reach'> {
  readonly addressesOf: (line: Line) => number;
  readonly policy: Policy;
  readonly couplers: NewCouplers;
}

function targetOf(balance: Balance, { roomUa, reach, addressesOf, policy, couplers }: Found): Target {
  const { segment, onSite, placesUsed, growth } = balance;
  const places = placesLeft(balance, policy) - couplers.count;
  const addresses = addressesOf(segment.line);
  return {
    segment,
    roomUa,
    placesUsed: placesUsed + growth.devices + couplers.count,
    placesFor: ({ line }) => (line === segment.line ? places : Math.min(places, addresses)),
    reach,
    hasVoltages: (onSite?.voltages ?? null) !== null,
  };
}

function voltagesAllow({ onSite }: Balance): boolean {
  const known = [onSite?.voltages?.verdict, onSite?.plannedVoltages?.verdict];
  return !known.includes('too low') && !known.includes('overloaded');
}
