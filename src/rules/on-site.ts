import type { Balance } from '../electrical/balance.js';
import type { CableFigures } from '../electrical/cable.js';
import { type Bounds, toMm } from '../electrical/cable-bounds.js';
import { segmentLabel } from '../plant/plant.js';
import type { LengthFacts } from '../words/facts.js';
import type { Words } from '../words/words.js';
import type { Facts, Found, RuleContext } from './rule.js';
import { segmentSubject } from './words.js';

/** A length that must not be exceeded, and the policy's bound on it. */
export interface LengthLimit {
  /** What is measured. */
  readonly quantity: 'cable' | 'cableFromSupply' | 'cableBetweenDevices';
  readonly setBy: 'cablePerSegmentM' | 'supplyToDeviceM' | 'deviceToDeviceM';
  readonly of: (cable: CableFigures) => Bounds;
}

/** The segment has no entry in a site sheet, so nobody said what its cable is like. */
export function noCableSaid({ onSite }: Balance, { site, words: { missing } }: RuleContext): string | null {
  if (onSite !== null) return null;
  return site === null ? missing.cableWithoutSheet : missing.cableWithoutEntry;
}

/** Without supplies there is nothing to say of them; where a choke stands for one elsewhere, that one is not known. */
export function noSupply(balance: Balance, context: RuleContext): string | null {
  const isThereNone = balance.segment.supplies.length === 0;
  return unknownFeed(balance, context) ?? (isThereNone ? context.words.missing.noSupply : null);
}

export function unknownFeed({ segment, isFeedUnknown }: Balance, { words }: RuleContext): string | null {
  return isFeedUnknown && segment.supplies.length === 0 ? words.missing.feed : null;
}

/** What would narrow a length down, where its bounds lie on both sides of the limit; null where they do not. */
export function openLength({ onSite }: Balance, { policy, words }: RuleContext, limit: LengthLimit): string | null {
  if (onSite === null) return null;
  const { leastM, mostM } = limit.of(onSite.cable);
  const limitM = policy[limit.setBy];
  const isDecided = (leastM !== null && leastM > limitM) || (mostM !== null && mostM <= limitM);
  return isDecided ? null : wantedText(onSite.cable, { leastM, mostM }, words);
}

/** What would narrow a length down, with what it lies between so far. */
export function wantedText({ wanted }: CableFigures, { leastM, mostM }: Bounds, { missing }: Words): string {
  return missing.length({ wanted, leastM, mostM });
}

/** Finds a length that is certain to be beyond its limit. */
export function* tooLong(
  { segment, onSite }: Balance,
  { policy, words }: RuleContext,
  { quantity, setBy, of }: LengthLimit,
): Iterable<Found<Facts & LengthFacts>> {
  const { leastM = null, mostM = null } = onSite === null ? {} : of(onSite.cable);
  const limitM = policy[setBy];
  if (leastM === null || leastM <= limitM) return;
  yield {
    subject: segmentSubject(segment),
    segments: [segment],
    measure: {
      quantity: words.facts.quantities[quantity],
      unit: 'm',
      value: leastM,
      limit: limitM,
      holds: 'at most',
      setBy,
    },
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
