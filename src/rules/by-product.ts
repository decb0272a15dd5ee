import type { Balance } from '../electrical/balance.js';
import {
  type AssumedBecause,
  type Device,
  deviceLabel,
  type Load,
  type Segment,
  segmentLabel,
} from '../plant/plant.js';
import type { RuleContext, Subject } from './rule.js';
import { list, productLabel } from './words.js';

/** One item of load, with the balance that it is part of. */
export interface ChargedItem {
  readonly load: Load;
  readonly balance: Balance;
}

/** Items of one product, wherever they are charged. */
export interface ProductGroup {
  readonly productRef: string;
  readonly items: readonly ChargedItem[];
}

/** The items of an installation that a rule is after, by product, in the order of the product ids. */
export function byProduct({ balances }: RuleContext, wanted: (load: Load) => boolean): ProductGroup[] {
  const groups = new Map<string, ChargedItem[]>();
  for (const balance of balances) {
    for (const load of balance.segment.loads) {
      if (!wanted(load)) continue;
      const key = load.device.productRef ?? '';
      const items = groups.get(key) ?? [];
      items.push({ load, balance });
      groups.set(key, items);
    }
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([productRef, items]) => ({ productRef, items }));
}

export function assumedBecause(...reasons: AssumedBecause[]): (load: Load) => boolean {
  return ({ current }) => current.because !== undefined && reasons.includes(current.because);
}

/** The segments that a group is charged to. */
export function segmentsOfGroup({ items }: ProductGroup): Segment[] {
  return [...new Set(items.map(({ balance }) => balance.segment))];
}

export function productSubject({ productRef, items }: ProductGroup): Subject {
  const product = items[0]?.load.device.product;
  return { kind: 'product', id: productRef, label: product ? productLabel(product) : productRef || 'no product named' };
}

/** How many devices of a product, and where: what every finding about a product states. */
export function placesFacts(group: ProductGroup) {
  const devices = new Set(group.items.map(({ load }) => load.device));
  const bySegment = new Map<Segment, Device[]>();
  for (const { load, balance } of group.items) {
    const here = bySegment.get(balance.segment) ?? [];
    here.push(load.device);
    bySegment.set(balance.segment, here);
  }
  return {
    product: productSubject(group).label,
    productId: group.productRef,
    orderNumber: group.items[0]?.load.device.product?.orderNumber ?? null,
    devices: devices.size,
    places: [...bySegment].map(([segment, here]) => placeFacts(segment, here)),
  };
}

function placeFacts(segment: Segment, here: readonly Device[]) {
  return { segment: segmentLabel(segment), segmentId: segment.id, devices: here.map(placeLabel) };
}

function placeLabel(device: Device): string {
  return device.location === null ? deviceLabel(device) : `${deviceLabel(device)} (${device.location})`;
}

/** `4 on line 1.1, 2 on line 1.2`. */
export function placesText(
  places: readonly { readonly segment: string; readonly devices: readonly string[] }[],
): string {
  return list(places.map(({ segment, devices }) => `${devices.length} on line ${segment}`));
}
