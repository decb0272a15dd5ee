import type { AssumedPart, Charged, LengthFacts, PlaceFacts, Wanted } from '../facts.js';
import { figuresIn, MOST_LISTED } from '../figures.js';
import { names } from './names.js';

export const figures = figuresIn({
  mark: ',',
  and: 'und',
  more: (n) => (n === 1 ? '1 weiteres' : `${n} weitere`),
});

const { number, milliamps, list } = figures;

/** `1 Linie`, `3 Linien`. */
export function count(n: number, singular: string, plural: string): string {
  return `${n} ${n === 1 ? singular : plural}`;
}

/** `Linie 1.2 Segment 1`. */
export function line(segment: string): string {
  return `Linie ${names.segment(segment)}`;
}

/** What to order for a load, as the end of a sentence. */
export function supplyAdvice({ suggestedRatingMa, plannedMa }: Wanted): string {
  const load = plannedMa === 0 ? 'diese Last' : `diese Last und die geplanten ${milliamps(plannedMa)}`;
  return suggestedRatingMa === null
    ? `kein lagernder Nennstrom trägt ${load} innerhalb des Zielwerts: Segment teilen, jeder Teil mit eigener Versorgung`
    : `eine Versorgung mit ${milliamps(suggestedRatingMa)} trägt ${load} innerhalb des Zielwerts`;
}

/** What a segment is charged with; begins a sentence. */
export function chargedText(f: Charged): string {
  const auxiliary = f.auxiliaryMa === 0 ? '' : `, davon ${milliamps(f.auxiliaryMa)} neben dem Bus`;
  if (f.sharedWith.length === 0) return `${line(f.segment)} ist mit ${milliamps(f.loadMa)} belastet${auxiliary}`;
  const lines = list([f.segment, ...f.sharedWith].map(names.segment));
  return `Die Linien ${lines} teilen sich Versorgungen und sind zusammen mit ${milliamps(f.loadMa)} belastet${auxiliary}`;
}

/** How much of a load is assumed, as a sentence of its own; empty if nothing is. */
export function assumedRemark({ assumedMa, assumedItems }: AssumedPart): string {
  if (assumedItems === 0) return '';
  const whose = assumedItems === 1 ? 'dessen Strom niemand angibt' : 'deren Strom niemand angibt';
  return ` Davon sind ${milliamps(assumedMa)} angenommen, für ${count(assumedItems, 'Teilnehmer', 'Teilnehmer')}, ${whose}.`;
}

/** `4 auf Linie 1.1 und 2 auf Linie 1.2`; of many, `… und auf 9 weiteren Linien`. */
export function placesText(places: readonly PlaceFacts[]): string {
  const told = places.map(({ segment, devices }) => `${devices.length} auf ${line(segment)}`);
  return list(told, MOST_LISTED, (n) => `auf ${count(n, 'weiteren Linie', 'weiteren Linien')}`);
}

/** `360 m`, `mindestens 360 m`. */
export function lengthText({ lengthM, isExact }: LengthFacts): string {
  return `${isExact ? '' : 'mindestens '}${number(lengthM)} m`;
}

/** `erlaubt sind 350 m: 10 m zu viel`, the end of a sentence. */
export function limitText({ limitM, excessM }: LengthFacts): string {
  return `erlaubt sind ${number(limitM)} m: ${number(excessM)} m zu viel`;
}
