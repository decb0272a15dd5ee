import type { AssumedPart, Charged, LengthFacts, PlaceFacts, Wanted } from '../facts.js';
import { figuresIn, MOST_LISTED } from '../figures.js';

export const figures = figuresIn({ mark: '.', and: 'and', more: (n) => `${n} more` });

const { milliamps, list } = figures;

/** `1 device`, `3 devices`. */
export function count(n: number, singular: string, plural = `${singular}s`): string {
  return `${n} ${n === 1 ? singular : plural}`;
}

/** What to order for a load, as the end of a sentence. */
export function supplyAdvice({ suggestedRatingMa, plannedMa }: Wanted): string {
  const load = plannedMa === 0 ? 'this load' : `this load and the ${milliamps(plannedMa)} that are planned`;
  return suggestedRatingMa === null
    ? `no rating in stock carries ${load} within the target: split the segment, each part with a supply of its own`
    : `a supply of ${milliamps(suggestedRatingMa)} carries ${load} within the target`;
}

/** What a segment is charged with; begins a sentence. */
export function chargedText(f: Charged): string {
  const auxiliary = f.auxiliaryMa === 0 ? '' : `, ${milliamps(f.auxiliaryMa)} of it beside the bus`;
  const load = `charged with ${milliamps(f.loadMa)}${auxiliary}`;
  if (f.sharedWith.length === 0) return `Line ${f.segment} is ${load}`;
  return `Lines ${list([f.segment, ...f.sharedWith])} share supplies and are together ${load}`;
}

/** How much of a load is assumed, as a sentence of its own; empty if nothing is. */
export function assumedRemark({ assumedMa, assumedItems }: AssumedPart): string {
  if (assumedItems === 0) return '';
  return ` Of this load ${milliamps(assumedMa)} are assumed, for ${count(assumedItems, 'item')} whose current nobody declared.`;
}

/** `4 on line 1.1 and 2 on line 1.2`; of many, `… and on 9 more lines`, as those left out are no devices. */
export function placesText(places: readonly PlaceFacts[]): string {
  const told = places.map(({ segment, devices }) => `${devices.length} on line ${segment}`);
  return list(told, MOST_LISTED, (n) => `on ${count(n, 'more line')}`);
}

/** `360 m`, `at least 360 m`. */
export function lengthText({ lengthM, isExact }: LengthFacts): string {
  return `${isExact ? '' : 'at least '}${lengthM} m`;
}

/** `350 m are allowed: 10 m too much`, the end of a sentence. */
export function limitText({ limitM, excessM }: LengthFacts): string {
  return `${limitM} m are allowed: ${excessM} m too much`;
}
