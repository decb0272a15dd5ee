import { possibleFeeds, type Segment, type Supply } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { sum } from '../units.js';
import type { Capacity } from './capacity.js';
import type { FeedPart } from './feed-group.js';
import { type LoadSum, together } from './load.js';
import { targetOf } from './target.js';

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

/** Load against capacity: of a segment by itself, or of segments that share supplies. */
export interface Carried {
  /** The segments whose load is held together against the supplies. */
  readonly segments: readonly Segment[];
  /** All that feed any of them, each once. */
  readonly supplies: readonly Supply[];
  readonly load: LoadSum;
  /** Sum of the known ratings of the supplies, µA. */
  readonly ratedUa: number;
  /** What may be drawn, µA; null if a rating is unknown, the combination is not admissible, or there is no supply. */
  readonly usableUa: number | null;
}

/** The carried part of a group, with the load of each segment as {@link loadOf} gives it. */
export function carriedBy({ segments, supplies }: FeedPart, loadOf: (segment: Segment) => LoadSum): Carried {
  const ratings = supplies.map(({ ratingUa }) => ratingUa);
  const ratedUa = sum(ratings.map((ua) => ua ?? 0));
  const isRated = supplies.length > 0 && !ratings.includes(null);
  return { segments, supplies, load: together(segments.map(loadOf)), ratedUa, usableUa: isRated ? ratedUa : null };
}

/** What is known of a segment before load is held against capacity. */
export interface Feed {
  readonly segment: Segment;
  readonly capacity: Capacity;
  /** Which supplies feed it is not known. */
  readonly isUnknown: boolean;
}

/**
 * @param carried the parts that the segment belongs to; the worst of them counts
 * @param loadUa what of a load is held against the supplies, µA
 */
export function verdictOf(feed: Feed, carried: readonly Carried[], loadUa: (load: LoadSum) => number, policy: Policy) {
  return (
    verdictBefore(feed, carried, loadUa) ??
    worstVerdict(carried.map((one) => carriedVerdict(one, loadUa(one.load), policy)))
  );
}

function verdictBefore(
  { segment, capacity, isUnknown }: Feed,
  [own]: readonly Carried[],
  loadUa: (load: LoadSum) => number,
): Verdict | null {
  if (!segment.medium.needsPower) return 'not-bus-powered';
  if (segment.loads.length === 0) return 'idle';
  if (possibleFeeds(segment) === 0) return 'unfed';
  if (!segment.boundariesKnown)
    return verdictWithoutBounds(segment, own === undefined ? 0 : loadUa(own.load), capacity);
  return isUnknown || capacity.tooMany || capacity.shortCircuitExceeded ? 'undecidable' : null;
}

/** How load and capacity of one part compare. */
export function carriedVerdict({ ratedUa, usableUa }: Carried, loadUa: number, policy: Policy): Verdict {
  if (usableUa === null) {
    const isCarried = ratedUa > 0 && loadUa <= targetOf(ratedUa, policy);
    return isCarried ? 'sufficient' : 'undecidable';
  }
  if (loadUa > usableUa) return 'insufficient';
  return loadUa > targetOf(usableUa, policy) ? 'tight' : 'sufficient';
}

function worstVerdict(verdicts: readonly Verdict[]): Verdict {
  return VERDICTS.find((verdict) => verdicts.includes(verdict)) ?? 'undecidable';
}

/** Only too much is certain, and only where every supply that may feed the segment is its own and rated. */
function verdictWithoutBounds(segment: Segment, loadUa: number, { unrated, ratedUa }: Capacity): Verdict {
  const isAllOwn = segment.supplies.length > 0 && possibleFeeds(segment) === segment.supplies.length;
  return isAllOwn && unrated === 0 && loadUa > ratedUa ? 'insufficient' : 'undecidable';
}
