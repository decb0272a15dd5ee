import type { Balance } from '../electrical/balance.js';
import { busUa, type LoadSum } from '../electrical/load.js';
import { type Origin, segmentLabel } from '../plant/plant.js';
import { sum, toMa, toMaOrNull } from '../units.js';
import type { Words } from '../words/words.js';
import type { Measure, RuleContext } from './rule.js';

/** Reasons why a rule cannot judge a segment: the missing facts that coverage names. */

/** What they are told with. */
type Told = Pick<RuleContext, 'words'>;

export function noPower({ segment }: Balance, { words }: Told): string | null {
  return segment.medium.needsPower ? null : words.missing.noPower(segment.medium.name);
}

export function noBoundaries(balance: Balance, told: Told): string | null {
  return balance.segment.boundariesKnown ? noPower(balance, told) : told.words.missing.boundaries;
}

/** What is missing to hold a load against a capacity. */
export function noCapacity(balance: Balance, told: Told): string | null {
  const { segment, capacity } = balance;
  const { missing } = told.words;
  const earlier = noBoundaries(balance, told);
  if (earlier !== null || segment.loads.length === 0) return earlier;
  if (balance.isFeedUnknown) return missing.feed;
  if (segment.supplies.length === 0) return missing.noSupply;
  if (capacity.tooMany || capacity.shortCircuitExceeded) return missing.notTogether;
  return capacity.unrated > 0 ? missing.rating : null;
}

/** The weakest origin that the judged load rests on. */
export function restsOn({ judged: { segments, load } }: Balance): Origin {
  if (load.assumedItems > 0) return 'assumed';
  const loads = segments.flatMap((segment) => segment.loads);
  return loads.some(({ current }) => current.origin === 'overridden') ? 'overridden' : 'declared';
}

/** The judged load of a segment as what a finding hangs on; the limit is the rule's to add. */
export function loadMeasure(load: LoadSum, breakEvenUa: number | null, words: Words) {
  return {
    quantity: words.facts.quantities.load,
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
