import type { Segment } from '../plant/plant.js';
import { remembered } from '../plant/remembered.js';
import type { Policy } from '../policy/policy.js';
import type { SegmentSite, Site } from '../site/site.js';
import { fromMa, greatest, sum } from '../units.js';
import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import { type Capacity, capacityOf } from './capacity.js';
import { type FanIn, fanInOf } from './fan-in.js';
import { type FeedGroup, feedGroupsOf, MOST_SHARED_SUPPLIES, partsWith } from './feed-group.js';
import { type Growth, growthOf } from './growth.js';
import { busUa, type LoadSum, loadSum } from './load.js';
import { type OnSite, onSiteOf } from './on-site.js';
import { type ReachFigures, reachOf } from './reach.js';
import { boundsOf, type LoadBounds } from './sensitivity.js';
import { suggestedRating, targetOf } from './target.js';
import { type Carried, carriedBy, carriedVerdict, type Feed, VERDICTS, type Verdict, verdictOf } from './verdict.js';

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

/** What the verdict was made of: the part of the feed group that is worst off. */
export interface Judged extends Carried {
  /** Planned for these segments and not there yet, µA. */
  readonly plannedUa: number;
}

/** The balance of one segment. Figures that the facts do not allow are null. */
export interface Balance {
  readonly segment: Segment;
  readonly verdict: Verdict;
  /** Of this segment alone. */
  readonly load: LoadSum;
  /** Of the supplies that feed this segment, as if they fed no other. */
  readonly capacity: Capacity;
  /** Which supplies feed it is not known, or more of them are joined than can be told apart. */
  readonly isFeedUnknown: boolean;
  /** The other segments that its supplies feed, directly or through others. */
  readonly sharesWith: readonly Segment[];
  readonly judged: Judged;
  /** Target share of the judged capacity, µA. */
  readonly targetUa: number | null;
  /** Judged load over judged capacity, as a ratio. */
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
  /** The smallest in stock for the judged load and what is planned. */
  readonly suggestedRatingUa: number | null;
  readonly fanIn: FanIn | null;
  readonly reach: ReachFigures | null;
  /** What the site sheet adds; null where it has no entry for the segment, or the segment no bounds. */
  readonly onSite: OnSite | null;
}

/**
 * Holds the load of every segment against the supplies that feed it.
 * @param words what is told of the site in words is told with these; no figure depends on them
 */
export function balancesOf(
  segments: readonly Segment[],
  policy: Policy,
  site: Site | null = null,
  words: Words = EN,
): Balance[] {
  const groups = feedGroupsOf(segments);
  const balancer = new Balancer(segments, policy, site, words);
  return segments.map((segment) =>
    balancer.balanceOf(segment, groups.get(segment) ?? { segments: [segment], supplies: segment.supplies }),
  );
}

class Balancer {
  readonly #loadOf = remembered((segment: Segment) => loadSum(segment.loads, this.#siteOf(segment)?.auxiliaryUa ?? 0));
  readonly #growthOf = remembered((segment: Segment) => growthOf(segment, this.policy, this.#siteOf(segment)?.planned));

  constructor(
    readonly segments: readonly Segment[],
    readonly policy: Policy,
    readonly site: Site | null,
    readonly words: Words,
  ) {}

  balanceOf(segment: Segment, group: FeedGroup): Balance {
    const { policy } = this;
    const load = this.#loadOf(segment);
    const capacity = capacityOf(segment.supplies);
    const isTangled = group.supplies.length > MOST_SHARED_SUPPLIES && group.segments.length > 1;
    const feed: Feed = { segment, capacity, isUnknown: isTangled || isFedFromElsewhere(segment) };
    const carried = this.#carried(feed, group);
    const verdict = verdictOf(feed, carried, ({ totalUa }) => totalUa, policy);
    const judged = this.#worst(carried);
    const isJudged = segment.boundariesKnown && segment.loads.length > 0;
    const usableUa = isJudged && !feed.isUnknown ? judged.usableUa : null;
    const targetUa = usableUa === null ? null : targetOf(usableUa, policy);
    const headroomUa = targetUa === null ? null : targetUa - judged.load.totalUa;
    return {
      segment,
      verdict,
      load,
      capacity,
      isFeedUnknown: feed.isUnknown,
      sharesWith: group.segments.filter((other) => other !== segment),
      judged,
      targetUa,
      utilisation: usableUa === null ? null : judged.load.totalUa / usableUa,
      headroomUa,
      roomForDevices: headroomUa === null ? null : roomFor(headroomUa, segment.loads.length, policy),
      placesUsed: segment.loads.length,
      breakEven: {
        toTightUa: breakEven(judged.load, targetUa),
        toInsufficientUa: breakEven(judged.load, usableUa),
      },
      sensitivity: this.#sensitivityOf(feed, carried, judged.load),
      growth: this.#growthOf(segment),
      suggestedRatingUa: isJudged ? suggestedRating(judged.load.totalUa + judged.plannedUa, policy) : null,
      fanIn: isJudged ? fanInOf(segment.loads) : null,
      reach: isJudged ? reachOf(busUa(load), largestRating(feed, load, policy), policy) : null,
      onSite: segment.boundariesKnown ? this.#onSite(segment, group, judged.load.totalUa) : null,
    };
  }

  #onSite(segment: Segment, group: FeedGroup, judgedUa: number): OnSite | null {
    const { site, policy, words } = this;
    const entry = this.#siteOf(segment);
    if (site === null || entry === null || !segment.medium.needsPower) return null;
    return onSiteOf(segment, entry, { group, site, policy, judgedUa, others: this.segments, words });
  }

  #siteOf({ id }: Segment): SegmentSite | null {
    return this.site?.segments.get(id) ?? null;
  }

  /** The parts of the group that the segment is in; by itself it is judged on what its supplies may do together. */
  #carried({ segment, capacity }: Feed, group: FeedGroup): Carried[] {
    const parts = group.segments.length === 1 ? null : partsWith(segment, group);
    if (parts !== null) return parts.map((part) => carriedBy(part, (one) => this.#loadOf(one)));
    const { ratedUa, usableUa } = capacity;
    return [{ segments: [segment], supplies: segment.supplies, load: this.#loadOf(segment), ratedUa, usableUa }];
  }

  /** The part with the worst verdict, and of these the one with the least left to the target. */
  #worst(carried: readonly Carried[]): Judged {
    const { policy } = this;
    const ranked = carried.map((one) => ({
      one,
      rank: VERDICTS.indexOf(carriedVerdict(one, one.load.totalUa, policy)),
      leftUa: targetOf(one.ratedUa, policy) - one.load.totalUa,
    }));
    const [worst] = ranked.sort((a, b) => a.rank - b.rank || a.leftUa - b.leftUa);
    if (worst === undefined) throw new Error('a segment is in no part of its own feed group');
    const { one } = worst;
    return { ...one, plannedUa: sum(one.segments.map((segment) => this.#growthOf(segment).plannedUa)) };
  }

  #sensitivityOf(feed: Feed, carried: readonly Carried[], judged: LoadSum): Sensitivity | null {
    const { policy } = this;
    if (judged.assumedItems === 0 || !feed.segment.medium.needsPower) return null;
    const bounds = (load: LoadSum) => boundsOf(load.totalUa - load.byOrigin.assumed, load.assumedItems, policy);
    return {
      ...bounds(judged),
      atLow: verdictOf(feed, carried, (load) => bounds(load).lowUa, policy),
      atHigh: verdictOf(feed, carried, (load) => bounds(load).highUa, policy),
    };
  }
}

/** A choke feeds the segment, but the supply that it belongs to is not known; or the supply that the sheet names is gone. */
function isFedFromElsewhere({ chokes, supplies, feed }: Segment): boolean {
  return feed === 'unknown' || (chokes.length > 0 && supplies.length === 0);
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
function largestRating({ segment, isUnknown }: Feed, { totalUa }: LoadSum, policy: Policy): number | null {
  const { supplies } = segment;
  if (isUnknown) return null;
  if (supplies.length === 0) return suggestedRating(totalUa, policy);
  const ratings = supplies.map(({ ratingUa }) => ratingUa);
  return ratings.includes(null) ? null : greatest(ratings.map(Number));
}
