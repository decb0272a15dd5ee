import { type Load, type Origin, possibleFeeds, type Segment } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { fromMa, greatest, sum } from '../units.js';
import { type Capacity, capacityOf } from './capacity.js';
import { type FanIn, fanInOf } from './fan-in.js';
import { type Growth, growthOf } from './growth.js';
import { type ReachFigures, reachOf } from './reach.js';
import { boundsOf, type LoadBounds } from './sensitivity.js';
import { suggestedRating, targetOf } from './target.js';

export const VERDICTS = [
  'insufficient',
  'unfed',
  'undecidable',
  'tight',
  'sufficient',
  'idle',
  'not-bus-powered',
] as const;

/** What the audit says of a segment, worst first in {@link VERDICTS}. */
export type Verdict = (typeof VERDICTS)[number];

/** What is charged to a segment, µA. The three origins add up to the total. */
export interface LoadSum {
  readonly totalUa: number;
  readonly byOrigin: { readonly [origin in Origin]: number };
  /** How many items are assumed. */
  readonly assumedItems: number;
  /** The part of the total that couplers of lines below draw here. */
  readonly couplersBelowUa: number;
}

/**
 * The average that each assumed item could draw before the verdict turns, µA, rounded down; null where nothing is
 * assumed, the capacity is unknown, or the known load alone is beyond.
 */
export interface BreakEven {
  readonly toTightUa: number | null;
  readonly toInsufficientUa: number | null;
}

/** The verdict at both ends of what the assumed items may draw. */
export interface Sensitivity extends LoadBounds {
  readonly atLow: Verdict;
  readonly atHigh: Verdict;
}

/** The balance of one segment. Figures that the facts do not allow are null. */
export interface Balance {
  readonly segment: Segment;
  readonly verdict: Verdict;
  readonly load: LoadSum;
  readonly capacity: Capacity;
  /** Target share of the capacity, µA. */
  readonly targetUa: number | null;
  /** Load over capacity, as a ratio. */
  readonly utilisation: number | null;
  /** What may still be added within the target, µA; negative if the load is beyond. */
  readonly headroomUa: number | null;
  /** Further devices at the rule of thumb, bounded by the places left. */
  readonly roomForDevices: number | null;
  readonly placesUsed: number;
  readonly breakEven: BreakEven;
  /** Null where nothing is assumed. */
  readonly sensitivity: Sensitivity | null;
  /** What is planned and not there yet; no part of the load. */
  readonly growth: Growth;
  /** The smallest in stock for the load and what is planned. */
  readonly suggestedRatingUa: number | null;
  readonly fanIn: FanIn | null;
  readonly reach: ReachFigures | null;
}

/** Holds the load of a segment against its supplies. */
export function balanceOf(segment: Segment, policy: Policy): Balance {
  const load = loadSum(segment.loads);
  const capacity = capacityOf(segment.supplies);
  const verdict = verdictOf(segment, load.totalUa, capacity, policy);
  const isJudged = segment.boundariesKnown && segment.loads.length > 0;
  const usableUa = isJudged && !isFeedUnknown(segment) ? capacity.usableUa : null;
  const growth = growthOf(segment, policy);
  const targetUa = usableUa === null ? null : targetOf(usableUa, policy);
  const headroomUa = targetUa === null ? null : targetUa - load.totalUa;
  return {
    segment,
    verdict,
    load,
    capacity,
    targetUa,
    utilisation: usableUa === null ? null : load.totalUa / usableUa,
    headroomUa,
    roomForDevices: headroomUa === null ? null : roomFor(headroomUa, segment.loads.length, policy),
    placesUsed: segment.loads.length,
    breakEven: {
      toTightUa: breakEven(load, targetUa),
      toInsufficientUa: breakEven(load, usableUa),
    },
    sensitivity: sensitivityOf(segment, load, capacity, policy),
    growth,
    suggestedRatingUa: isJudged ? suggestedRating(load.totalUa + growth.plannedUa, policy) : null,
    fanIn: isJudged ? fanInOf(segment.loads) : null,
    reach: isJudged ? reachOf(load.totalUa, largestRating(segment, load, policy), policy) : null,
  };
}

/** A choke feeds the segment, but the supply that it belongs to is not on it. */
export function isFeedUnknown({ chokes, supplies }: Segment): boolean {
  return chokes.length > 0 && supplies.length === 0;
}

function sensitivityOf(
  segment: Segment,
  { totalUa, byOrigin, assumedItems }: LoadSum,
  capacity: Capacity,
  policy: Policy,
): Sensitivity | null {
  if (assumedItems === 0 || !segment.medium.needsPower) return null;
  const bounds = boundsOf(totalUa - byOrigin.assumed, assumedItems, policy);
  return {
    ...bounds,
    atLow: verdictOf(segment, bounds.lowUa, capacity, policy),
    atHigh: verdictOf(segment, bounds.highUa, capacity, policy),
  };
}

/** @param loadUa what the segment is charged with, µA */
function verdictOf(segment: Segment, loadUa: number, capacity: Capacity, policy: Policy): Verdict {
  if (!segment.medium.needsPower) return 'not-bus-powered';
  if (segment.loads.length === 0) return 'idle';
  if (possibleFeeds(segment) === 0) return 'unfed';
  if (!segment.boundariesKnown) return verdictWithoutBounds(segment, loadUa, capacity);
  if (isFeedUnknown(segment)) return 'undecidable';
  if (capacity.tooMany || capacity.shortCircuitExceeded) return 'undecidable';
  if (capacity.usableUa === null) {
    const isCarried = capacity.ratedUa > 0 && loadUa <= targetOf(capacity.ratedUa, policy);
    return isCarried ? 'sufficient' : 'undecidable';
  }
  if (loadUa > capacity.usableUa) return 'insufficient';
  return loadUa > targetOf(capacity.usableUa, policy) ? 'tight' : 'sufficient';
}

/** Only too much is certain, and only where every supply that may feed the segment is its own and rated. */
function verdictWithoutBounds(segment: Segment, loadUa: number, { unrated, ratedUa }: Capacity): Verdict {
  const isAllOwn = segment.supplies.length > 0 && possibleFeeds(segment) === segment.supplies.length;
  return isAllOwn && unrated === 0 && loadUa > ratedUa ? 'insufficient' : 'undecidable';
}

function loadSum(loads: readonly Load[]): LoadSum {
  const byOrigin = { declared: 0, overridden: 0, assumed: 0 };
  let assumedItems = 0;
  let couplersBelowUa = 0;
  for (const { current, chargedAs } of loads) {
    byOrigin[current.origin] += current.ua;
    if (current.origin === 'assumed') assumedItems++;
    if (chargedAs === 'coupler from below') couplersBelowUa += current.ua;
  }
  return { totalUa: sum(Object.values(byOrigin)), byOrigin, assumedItems, couplersBelowUa };
}

function breakEven({ totalUa, byOrigin, assumedItems }: LoadSum, boundUa: number | null): number | null {
  if (boundUa === null || assumedItems === 0) return null;
  const knownUa = totalUa - byOrigin.assumed;
  return knownUa > boundUa ? null : Math.floor((boundUa - knownUa) / assumedItems);
}

/** A segment beyond the classic number of devices has devices of the newer type, so their number bounds it. */
function roomFor(headroomUa: number, placesUsed: number, policy: Policy): number {
  const places = placesUsed <= policy.devicesClassic ? policy.devicesClassic : policy.devicesGreatest;
  const byCurrent = Math.floor(headroomUa / fromMa(policy.assumedCurrentMa));
  return Math.max(0, Math.min(byCurrent, places - placesUsed));
}

/** The largest supply there is; where there is none, the one that would be chosen; null where nobody knows which feeds. */
function largestRating(segment: Segment, { totalUa }: LoadSum, policy: Policy): number | null {
  const { supplies } = segment;
  if (isFeedUnknown(segment)) return null;
  if (supplies.length === 0) return suggestedRating(totalUa, policy);
  const ratings = supplies.map(({ ratingUa }) => ratingUa);
  return ratings.includes(null) ? null : greatest(ratings.map(Number));
}
