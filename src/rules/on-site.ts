import type { Balance } from '../electrical/balance.js';
import type { CableFigures } from '../electrical/cable.js';
import { type Bounds, toMm } from '../electrical/cable-bounds.js';
import { segmentLabel } from '../plant/plant.js';
import type { Facts, Found, RuleContext } from './rule.js';
import { segmentSubject } from './words.js';

/** A length that must not be exceeded, and the policy's bound on it. */
export interface LengthLimit {
  /** What is measured, in a word or two. */
  readonly quantity: string;
  readonly setBy: 'cablePerSegmentM' | 'supplyToDeviceM' | 'deviceToDeviceM';
  readonly of: (cable: CableFigures) => Bounds;
}

interface LengthFacts extends Facts {
  readonly segment: string;
  /** What it is at least, m. */
  readonly lengthM: number;
  /** Whether it is no more than that either. */
  readonly isExact: boolean;
  readonly limitM: number;
  readonly excessM: number;
}

/** The segment has no entry in a site sheet, so nobody said what its cable is like. */
export function noCableSaid({ onSite }: Balance, { site }: RuleContext): string | null {
  if (onSite !== null) return null;
  return `the length of its cable: ${site === null ? 'give a site sheet' : 'the site sheet has no entry for the segment'}`;
}

/** Without supplies there is nothing to say of them; where a choke stands for one elsewhere, that one is not known. */
export function noSupply(balance: Balance): string | null {
  return unknownFeed(balance) ?? (balance.segment.supplies.length === 0 ? 'there is no supply' : null);
}

export function unknownFeed({ segment, isFeedUnknown }: Balance): string | null {
  return isFeedUnknown && segment.supplies.length === 0 ? 'the supply that feeds the segment is not known' : null;
}

/** What would narrow a length down, where its bounds lie on both sides of the limit; null where they do not. */
export function openLength({ onSite }: Balance, { policy }: RuleContext, limit: LengthLimit): string | null {
  if (onSite === null) return null;
  const { leastM, mostM } = limit.of(onSite.cable);
  const limitM = policy[limit.setBy];
  const isDecided = (leastM !== null && leastM > limitM) || (mostM !== null && mostM <= limitM);
  return isDecided ? null : wantedText(onSite.cable, { leastM, mostM });
}

/** What would narrow a length down, with what it lies between so far. */
export function wantedText({ wanted }: CableFigures, bounds: Bounds): string {
  return `${wanted.join('; ')}${betweenText(bounds)}`;
}

function betweenText({ leastM, mostM }: Bounds): string {
  if (mostM !== null) return leastM ? ` (between ${leastM} m and ${mostM} m so far)` : ` (at most ${mostM} m so far)`;
  return leastM ? ` (at least ${leastM} m so far)` : '';
}

/** Finds a length that is certain to be beyond its limit. */
export function* tooLong(
  { segment, onSite }: Balance,
  { policy }: RuleContext,
  { quantity, setBy, of }: LengthLimit,
): Iterable<Found<LengthFacts>> {
  const { leastM = null, mostM = null } = onSite === null ? {} : of(onSite.cable);
  const limitM = policy[setBy];
  if (leastM === null || leastM <= limitM) return;
  yield {
    subject: segmentSubject(segment),
    segments: [segment],
    measure: { quantity, unit: 'm', value: leastM, limit: limitM, holds: 'at most', setBy },
    restsOn: 'declared',
    facts: {
      segment: segmentLabel(segment),
      lengthM: leastM,
      isExact: mostM === leastM,
      limitM,
      excessM: toMm(leastM - limitM),
    },
  };
}

/** `360 m`, `at least 360 m`. */
export function lengthText({ lengthM, isExact }: { readonly lengthM: number; readonly isExact: boolean }): string {
  return `${isExact ? '' : 'at least '}${lengthM} m`;
}

/** `350 m are allowed: 10 m too much`, the end of a sentence. */
export function limitText({ limitM, excessM }: { readonly limitM: number; readonly excessM: number }): string {
  return `${limitM} m are allowed: ${excessM} m too much`;
}
