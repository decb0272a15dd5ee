import { growthOf } from '../electrical/growth.js';
import type { Segment } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { greatest, sum, toMa } from '../units.js';
import { greatestCarried } from './choices.js';
import type { Demand } from './demand.js';
import type { Parted } from './fixed-load.js';
import type { SizingWords } from './sized.js';
import type { NewCoupler } from './split-plan.js';

/** What devices may be put where, net of what is there anyway. */
export interface Rooms {
  /** On each new line, beside its coupler and what is planned, µA. */
  readonly newUa: number;
  /** On the segment itself, beside all that cannot be moved and what is planned, µA. */
  readonly ownUa: number;
  readonly newPlaces: number;
  readonly ownPlaces: number;
  /** What cannot be moved from the segment, with new couplers, µA and devices. */
  readonly fixedUa: number;
  readonly fixedPlaces: number;
}

/** Couplers that a split puts on the segment itself, as one of its own or as those of lines below. */
export interface CouplersHere {
  readonly count: number;
  readonly ua: number;
}

export interface RoomsOf {
  readonly segment: Segment;
  readonly demand: Demand;
  readonly parted: Parted;
  readonly coupler: NewCoupler;
  /** With those that other plans put there. */
  readonly couplersHere: CouplersHere;
  /** Those that other plans put there alone: the demand counts their current already. */
  readonly added: CouplersHere;
  /** Line addresses that may be used. */
  readonly free: readonly number[];
}

/** The room for devices on each of the pieces, or why there is none. */
export function roomsOf(of: RoomsOf, policy: Policy, { sizing }: SizingWords): Rooms | { readonly because: string } {
  const { segment, demand, parted, coupler, couplersHere, added, free } = of;
  const { address } = segment.line;
  const carriedNewUa = greatestCarried({ ...demand, fixed: [], keepable: [], unrated: [] }, policy);
  const carriedOwnUa = greatestCarried(demand, policy);
  if (carriedNewUa === null || carriedOwnUa === null) return { because: sizing.unsplit.noStock };
  const fixedUa = demand.loadUa - sum(parted.movable.map(({ current }) => current.ua)) + couplersHere.ua - added.ua;
  const fixedPlaces = parted.fixed.length + couplersHere.count;
  const most = Math.min(policy.devicesClassic, policy.devicesGreatest);
  const rooms = {
    newUa: carriedNewUa - coupler.lowerUa - greatest(free.map((line) => plannedOn(segment, line, policy))),
    ownUa: carriedOwnUa - fixedUa - demand.plannedUa,
    newPlaces: most - 1,
    ownPlaces: most - fixedPlaces,
    fixedUa,
    fixedPlaces,
  };
  if (rooms.ownUa < 0) {
    return { because: sizing.unsplit.staysTooMuch({ line: address, ma: toMa(fixedUa + demand.plannedUa) }) };
  }
  if (rooms.ownPlaces < 0) {
    return { because: sizing.unsplit.staysTooMany({ line: address, devices: fixedPlaces, most }) };
  }
  return rooms.newUa <= 0 ? { because: sizing.unsplit.newCouplerTooMuch } : rooms;
}

/** What the policy plans for a line of the area, µA: its growth is by the address of the line. */
export function plannedOn(segment: Segment, lineAddress: number, policy: Policy): number {
  return growthOf({ ...segment, line: { ...segment.line, lineAddress } }, policy).plannedUa;
}
