import { type Device, deviceLabel, type Product, type Segment, segmentLabel } from '../plant/plant.js';
import type { Basis } from '../policy/basis.js';
import { count as countInEnglish, figures } from '../words/en/sentences.js';
import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import type { Subject } from './rule.js';

/** For what is told in English only. */
export const { milliamps, list } = figures;
export const count = countInEnglish;

/** Where a rule's limit is from, with its kind where the source does not begin with it. */
export function sourceText(
  { basis, source }: { readonly basis: Basis; readonly source: string },
  { names }: Pick<Words, 'names'> = EN,
): string {
  const kind = names.bases[basis];
  return source.startsWith(kind) ? source : `${kind}: ${source}`;
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
