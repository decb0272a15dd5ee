import type { Balance } from '../electrical/balance.js';
import { type Device, type Load, segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { byProduct, countDevices, nearest, nearestTurnMa, turningPoint } from '../rules/by-product.js';
import { doubt } from '../rules/current-implausible.js';
import type { RuleContext } from '../rules/rule.js';
import { greatest, parseMilliamps, sum, toMa } from '../units.js';
import type { ReportUnknown } from './report.js';

/** Every product whose data sheet has to be looked up: the current is unknown or doubted, or a supply has no rating. */
export function unknownsOf(contexts: readonly RuleContext[]): ReportUnknown[] {
  return mergedUnknowns(contexts.flatMap((context) => [...unknownCurrents(context), ...unknownRatings(context)]));
}

/** A product of several installations, or of several archives, is looked up once. */
export function mergedUnknowns(unknowns: readonly ReportUnknown[]): ReportUnknown[] {
  const groups = new Map<string, [ReportUnknown, ...ReportUnknown[]]>();
  for (const unknown of unknowns) {
    const { devices, places, turnsAtMa, ...same } = unknown;
    const key = JSON.stringify(same);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [unknown]);
    else group.push(unknown);
  }
  return [...groups.values()].map((group) => (group.length === 1 ? group[0] : merged(group)));
}

function merged(group: readonly [ReportUnknown, ...ReportUnknown[]]): ReportUnknown {
  const [first] = group;
  const turns = group.map(({ turnsAtMa }) => turnsAtMa).filter((turn) => turn !== null);
  return {
    ...first,
    devices: sum(group.map(({ devices }) => devices)),
    places: group.flatMap(({ places }) => places),
    turnsAtMa: first.chargedMa === null ? leastRatingMa(turns) : nearest(turns, first.chargedMa),
  };
}

function unknownCurrents(context: RuleContext): ReportUnknown[] {
  const reasonOf = ({ device, current }: Load) => current.because ?? doubt({ device, current }, context.policy);
  const groups = byProduct(context, (load) => reasonOf(load) !== null);
  return groups.map((group): ReportUnknown => {
    const { first, places } = group;
    return {
      ...identityOf(first.device),
      wanted: 'current',
      because: String(reasonOf(first)),
      chargedMa: toMa(first.current.ua),
      devices: countDevices(group),
      places: places.map((place) => placeOf(place.balance, place.loads.length, turningPoint(place))),
      turnsAtMa: nearestTurnMa(group),
    };
  });
}

/** Supplies without a rating on segments that need one, by product, in the order of the product ids. */
function unknownRatings({ balances, policy }: RuleContext): ReportUnknown[] {
  const found = new Map<string, { first: Device; places: Map<Balance, number> }>();
  for (const balance of balances) {
    if (!balance.segment.medium.needsPower) continue;
    for (const { device, ratingUa } of balance.segment.supplies) {
      if (ratingUa !== null) continue;
      const key = device.productRef ?? '';
      const group = found.get(key) ?? { first: device, places: new Map<Balance, number>() };
      group.places.set(balance, (group.places.get(balance) ?? 0) + 1);
      found.set(key, group);
    }
  }
  const inOrder = [...found].sort(([a], [b]) => (a < b ? -1 : 1));
  return inOrder.map(([, { first, places }]): ReportUnknown => {
    const wanted = [...places].map(([balance, devices]) => ratingWantedMa(balance, devices));
    return {
      ...identityOf(first),
      wanted: 'rating',
      because: noRatingBecause(first, policy),
      chargedMa: null,
      devices: sum(places.values()),
      places: [...places].map(([balance, devices]) => placeOf(balance, devices, NO_TURN)),
      turnsAtMa: leastRatingMa(wanted.filter((ma) => ma !== null)),
    };
  });
}

/**
 * The rating that each of some like supplies needs for the segment's load, beside what the others deliver; null where
 * another rating is missing as well, or no rating would decide, or none is needed.
 */
function ratingWantedMa({ segment, capacity, load }: Balance, supplies: number): number | null {
  if (!segment.boundariesKnown || capacity.unrated > supplies) return null;
  const leftUa = load.totalUa - capacity.ratedUa;
  return leftUa <= 0 ? null : toMa(Math.ceil(leftUa / supplies));
}

/** A rating below this carries not all of the segments. */
function leastRatingMa(wanted: readonly number[]): number | null {
  return wanted.length === 0 ? null : greatest(wanted);
}

function noRatingBecause({ product }: Device, { leastRatingMa }: Policy): string {
  if (product === null) return 'product not in the archive';
  if (product.declared === null) return 'not declared';
  return parseMilliamps(product.declared) === undefined
    ? 'unreadable'
    : `below ${leastRatingMa} mA, the smallest that counts as a rating`;
}

const NO_TURN = { toTightMa: null, toInsufficientMa: null };

function identityOf({ product, productRef }: Device) {
  return {
    productId: productRef ?? '',
    product: product?.name ?? null,
    orderNumber: product?.orderNumber ?? null,
    manufacturer: product?.manufacturer ?? null,
    declared: product?.declared ?? null,
  };
}

function placeOf(
  { segment, verdict }: Balance,
  devices: number,
  { toTightMa, toInsufficientMa }: { readonly toTightMa: number | null; readonly toInsufficientMa: number | null },
): ReportUnknown['places'][number] {
  return { segment: segmentLabel(segment), segmentId: segment.id, devices, verdict, toTightMa, toInsufficientMa };
}
