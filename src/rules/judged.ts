import { type Balance, isFeedUnknown, type LoadSum } from '../electrical/balance.js';
import type { Origin } from '../plant/plant.js';
import { toMa, toMaOrNull } from '../units.js';
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
  if (isFeedUnknown(segment)) return 'the supply that feeds the segment is not known';
  if (segment.supplies.length === 0) return 'there is no supply';
  if (capacity.tooMany || capacity.shortCircuitExceeded) return 'the supplies may not stand on one segment together';
  return capacity.unrated > 0 ? 'the rating of a supply is not declared' : null;
}

/** The weakest origin that a load rests on. */
export function restsOn({ segment, load }: Balance): Origin {
  if (load.assumedItems > 0) return 'assumed';
  return segment.loads.some(({ current }) => current.origin === 'overridden') ? 'overridden' : 'declared';
}

/** The load of a segment as what a finding hangs on; the limit is the rule's to add. */
export function loadMeasure(load: LoadSum, breakEvenUa: number | null) {
  return {
    quantity: 'load',
    unit: 'mA',
    value: toMa(load.totalUa),
    holds: 'at most',
    breakEvenMa: toMaOrNull(breakEvenUa),
  } as const satisfies Partial<Measure>;
}

/** What every finding about the load of a segment states. */
export function loadFacts({ segment, load, growth, suggestedRatingUa }: Balance) {
  return {
    loadMa: toMa(load.totalUa),
    items: segment.loads.length,
    assumedMa: toMa(load.byOrigin.assumed),
    assumedItems: load.assumedItems,
    plannedMa: toMa(growth.plannedUa),
    suggestedRatingMa: toMaOrNull(suggestedRatingUa),
  };
}
