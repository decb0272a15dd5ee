import { type Device, deviceLabel, type Product, type Segment, segmentLabel } from '../plant/plant.js';
import type { Basis } from '../policy/basis.js';
import type { Subject } from './rule.js';

/** `540 mA`, `7.5 mA`. */
export function milliamps(ma: number): string {
  return `${ma} mA`;
}

/** `27.85 V`. */
export function volts(v: number): string {
  return `${v} V`;
}

/** `1 device`, `3 devices`. */
export function count(n: number, singular: string, plural = `${singular}s`): string {
  return `${n} ${n === 1 ? singular : plural}`;
}

/** Where a rule's limit is from, with its kind where the source does not begin with it. */
export function sourceText({ basis, source }: { readonly basis: Basis; readonly source: string }): string {
  return source.startsWith(basis) ? source : `${basis}: ${source}`;
}

/** `a`, `a and b`, `a, b and c`; beyond the most, `a, b and 4 more`. */
export function list(items: readonly string[], most = 6): string {
  const shown = items.length <= most ? items.slice(0, -1) : items.slice(0, most);
  const last = items.length <= most ? items.at(-1) : `${items.length - most} more`;
  return shown.length === 0 ? (last ?? '') : `${shown.join(', ')} and ${last}`;
}

/** A product as it stands on an order: name and order number. */
export function productLabel({ name, orderNumber }: Product): string {
  return orderNumber === null ? name : `${name} (${orderNumber})`;
}

export function segmentSubject(segment: Segment): Subject {
  return { kind: 'segment', id: segment.id, label: segmentLabel(segment), place: { line: segment.sourceLine } };
}

export function deviceSubject(device: Device): Subject {
  return { kind: 'device', id: device.id, label: deviceLabel(device), place: { line: device.sourceLine } };
}

/** What to order for a load, as the end of a sentence. */
export function supplyAdvice(suggestedRatingMa: number | null, plannedMa = 0): string {
  const load = plannedMa === 0 ? 'this load' : `this load and the ${milliamps(plannedMa)} that are planned`;
  return suggestedRatingMa === null
    ? `no rating in stock carries ${load} within the target: split the segment, each part with a supply of its own`
    : `a supply of ${milliamps(suggestedRatingMa)} carries ${load} within the target`;
}

/** What a segment is charged with, and together with which others where they share supplies; begins a sentence. */
export function chargedText(f: {
  readonly segment: string;
  readonly sharedWith: readonly string[];
  readonly loadMa: number;
  readonly auxiliaryMa: number;
}): string {
  const auxiliary = f.auxiliaryMa === 0 ? '' : `, ${milliamps(f.auxiliaryMa)} of it beside the bus`;
  const load = `charged with ${milliamps(f.loadMa)}${auxiliary}`;
  if (f.sharedWith.length === 0) return `Line ${f.segment} is ${load}`;
  return `Lines ${list([f.segment, ...f.sharedWith])} share supplies and are together ${load}`;
}

/** How much of a load is assumed, as a sentence of its own; empty if nothing is. */
export function assumedRemark(assumedMa: number, items: number): string {
  if (items === 0) return '';
  return ` Of this load ${milliamps(assumedMa)} are assumed, for ${count(items, 'item')} whose current nobody declared.`;
}
