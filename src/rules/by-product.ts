import type { Balance } from '../electrical/balance.js';
import {
  type AssumedBecause,
  type Device,
  deviceLabel,
  type Load,
  type Segment,
  segmentLabel,
} from '../plant/plant.js';
import { sum, toMa } from '../units.js';
import type { Words } from '../words/words.js';
import type { Fact, Measure, RuleContext, Subject } from './rule.js';
import { productLabel } from './words.js';

/** What is charged to one segment of one product. */
export interface Place {
  readonly balance: Balance;
  readonly loads: readonly Load[];
}

/** Items of load of one product, wherever they are charged. */
export interface ProductGroup {
  readonly productRef: string;
  readonly first: Load;
  /** In the order of the plant. */
  readonly places: readonly Place[];
}

/** The items of an installation that a rule is after, by product, in the order of the product ids. */
export function byProduct({ balances }: RuleContext, wanted: (load: Load) => boolean): ProductGroup[] {
  const groups = new Map<string, { productRef: string; first: Load; places: { balance: Balance; loads: Load[] }[] }>();
  for (const balance of balances) {
    for (const load of balance.segment.loads) {
      if (!wanted(load)) continue;
      const productRef = load.device.productRef ?? '';
      const group = groups.get(productRef) ?? { productRef, first: load, places: [] };
      const last = group.places.at(-1);
      if (last?.balance === balance) last.loads.push(load);
      else group.places.push({ balance, loads: [load] });
      groups.set(productRef, group);
    }
  }
  return [...groups.values()].sort((a, b) => (a.productRef < b.productRef ? -1 : 1));
}

export function assumedBecause(...reasons: AssumedBecause[]): (load: Load) => boolean {
  return ({ current }) => current.because !== undefined && reasons.includes(current.because);
}

/** The segments that a group is charged to. */
export function segmentsOfGroup({ places }: ProductGroup): Segment[] {
  return places.map(({ balance }) => balance.segment);
}

export function productSubject({ productRef, first }: ProductGroup, { facts }: Words): Subject {
  const { product } = first.device;
  const label = product ? productLabel(product) : productRef || facts.noProductNamed;
  const place = product?.place ?? { line: first.device.sourceLine };
  return { kind: 'product', id: productRef, label, place };
}

/** A coupler is an item on each of its sides, and one device. */
export function countDevices({ places }: ProductGroup): number {
  return new Set(places.flatMap(({ loads }) => loads.map(({ device }) => device))).size;
}

/** How many devices of a product, and where: what every finding about a product states. */
export function placesFacts(group: ProductGroup, words: Words) {
  return {
    product: productSubject(group, words).label,
    productId: group.productRef,
    orderNumber: group.first.device.product?.orderNumber ?? null,
    devices: countDevices(group),
    places: group.places.map(placeFacts),
  };
}

function placeFacts({ balance: { segment }, loads }: Place) {
  return {
    segment: segmentLabel(segment),
    segmentId: segment.id,
    devices: loads.map(({ device }) => placeLabel(device)),
  };
}

function placeLabel(device: Device): string {
  return device.location === null ? deviceLabel(device) : `${deviceLabel(device)} (${device.location})`;
}

/** Per segment the average that each device of a product could draw before the verdict turns, rounded down to µA. */
export interface TurningPoint {
  readonly segment: string;
  readonly verdict: string;
  readonly toTightMa: number | null;
  readonly toInsufficientMa: number | null;
  readonly [fact: string]: Fact;
}

export function turningPoint({ balance, loads }: Place): TurningPoint {
  const ownUa = sum(loads.map(({ current }) => current.ua));
  const average = (boundUa: number | null) => {
    if (boundUa === null) return null;
    const leftUa = boundUa - (balance.load.totalUa - ownUa);
    return leftUa < 0 ? null : toMa(Math.floor(leftUa / loads.length));
  };
  return {
    segment: segmentLabel(balance.segment),
    verdict: balance.verdict,
    toTightMa: average(balance.targetUa),
    toInsufficientMa: average(balance.targetUa === null ? null : balance.capacity.usableUa),
  };
}

/**
 * The nearest current above or below what a product is charged with at which the verdict of a segment turns, mA; null
 * where none turns.
 */
export function nearestTurnMa({ first, places }: ProductGroup): number | null {
  const chargedMa = toMa(first.current.ua);
  const turns = places.map(turningPoint).flatMap((one) => [one.toTightMa, one.toInsufficientMa]);
  return nearest(
    turns.filter((turn) => turn !== null),
    chargedMa,
  );
}

/** Of some values the nearest to one, of two as near the smaller; null where there is none. */
export function nearest(values: readonly number[], to: number): number | null {
  return [...values].sort((a, b) => Math.abs(a - to) - Math.abs(b - to) || a - b)[0] ?? null;
}

/** Of a product that nobody looked up: how many devices rest on it, and the current at which a verdict turns. */
export function assumedMeasure(group: ProductGroup, { facts }: Words): Measure {
  return {
    quantity: facts.quantities.unknownCurrents,
    unit: 'devices',
    value: countDevices(group),
    limit: 0,
    holds: 'at most',
    breakEvenMa: nearestTurnMa(group),
  };
}
