import type { Balance } from '../electrical/balance.js';
import { busUa, type LoadSum } from '../electrical/load.js';
import { type Origin, segmentLabel } from '../plant/plant.js';
import { sum, toMa, toMaOrNull } from '../units.js';
import type { Measure } from './rule.js';

/** Reasons why a rule cannot judge a segment: the missing facts that coverage names. */

export function noPower({ segment }: Balance): string | null {
  return segment.medium.needsPower ? null : `the medium ${segment.medium.name} carries no bus power`;
}

export function noBoundaries(balance: Balance): string | null {
  if (balance.segment.boundariesKnown) return noPower(balance);
  return 'the export does not say which of several electrical segments a device is on';
}

/** What is missing to hold a load against a capacity. */
export function noCapacity(balance: Balance): string | null {
  const { segment, capacity } = balance;
  const earlier = noBoundaries(balance);
  if (earlier !== null || segment.loads.length === 0) return earlier;
  if (balance.isFeedUnknown) return 'the supply that feeds the segment is not known';
  if (segment.supplies.length === 0) return 'there is no supply';
  if (capacity.tooMany || capacity.shortCircuitExceeded) return 'the supplies may not stand on one segment together';
  return capacity.unrated > 0 ? 'the rating of a supply is not declared' : null;
}

/** The weakest origin that the judged load rests on. */
export function restsOn({ judged: { segments, load } }: Balance): Origin {
  if (load.assumedItems > 0) return 'assumed';
  const loads = segments.flatMap((segment) => segment.loads);
  return loads.some(({ current }) => current.origin === 'overridden') ? 'overridden' : 'declared';
}

/** The judged load of a segment as what a finding hangs on; the limit is the rule's to add. */
export function loadMeasure(load: LoadSum, breakEvenUa: number | null) {
  return {
    quantity: 'load',
    unit: 'mA',
    value: toMa(load.totalUa),
    holds: 'at most',
    breakEvenMa: toMaOrNull(breakEvenUa),
  } as const satisfies Partial<Measure>;
}

/** What every finding about the load of a segment states; of segments that share supplies, for all of them. */
export function loadFacts({ segment, judged: { load, segments, plannedUa }, suggestedRatingUa }: Balance) {
  const others = segments.filter((one) => one !== segment);
  return {
    loadMa: toMa(load.totalUa),
    auxiliaryMa: toMa(load.auxiliaryUa),
    items: sum(segments.map(({ loads }) => loads.length)),
    sharedWith: others.map(segmentLabel),
    assumedMa: toMa(load.byOrigin.assumed),
    assumedItems: load.assumedItems,
    plannedMa: toMa(plannedUa),
    suggestedRatingMa: toMaOrNull(suggestedRatingUa),
  };
}

/** The bus alone would fit the supplies; with what is drawn beside it, it does not. */
export function isBesideTheBus({ verdict, judged: { load, usableUa } }: Balance): boolean {
  return verdict === 'insufficient' && usableUa !== null && busUa(load) <= usableUa;
}
