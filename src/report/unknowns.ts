import type { Balance } from '../electrical/balance.js';
import { type Device, type Load, segmentLabel } from '../plant/plant.js';
import { byProduct, nearestTurnMa, type ProductGroup, turningPoint } from '../rules/by-product.js';
import { doubt } from '../rules/current-implausible.js';
import type { RuleContext } from '../rules/rule.js';
import { toMa } from '../units.js';
import type { ReportUnknown } from './report.js';

/** Every product whose data sheet has to be looked up: the current is unknown or doubted, or a supply has no rating. */
export function unknownsOf(contexts: readonly RuleContext[]): ReportUnknown[] {
  return contexts.flatMap((context) => [...unknownCurrents(context), ...unknownRatings(context)]);
}

function unknownCurrents(context: RuleContext): ReportUnknown[] {
  const reasonOf = ({ device, current }: Load) => current.because ?? doubt({ device, current }, context.policy);
  const groups = byProduct(context, (load) => reasonOf(load) !== null);
  return groups.map((group): ReportUnknown => {
    const { first, places } = group;
    const devices = new Set(places.flatMap(({ loads }) => loads.map(({ device }) => device)));
    return {
      ...identityOf(first.device),
      wanted: 'current',
      because: String(reasonOf(first)),
      chargedMa: toMa(first.current.ua),
      devices: devices.size,
      places: places.map((place) => placeOf(place.balance, place.loads.length, turningPoint(place))),
      turnsAtMa: nearestTurnMa(group satisfies ProductGroup),
    };
  });
}

/** Supplies without a rating, by product, in the order of the product ids. */
function unknownRatings({ balances }: RuleContext): ReportUnknown[] {
  const found = new Map<string, { first: Device; places: Map<Balance, number> }>();
  for (const balance of balances) {
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
    const wantedMa = [...places.keys()].map(({ load }) => toMa(load.totalUa));
    return {
      ...identityOf(first),
      wanted: 'rating',
      because: 'not declared',
      chargedMa: null,
      devices: [...places.values()].reduce((a, b) => a + b, 0),
      places: [...places].map(([balance, devices]) => placeOf(balance, devices, NO_TURN)),
      turnsAtMa: wantedMa.sort((a, b) => b - a)[0] ?? null,
    };
  });
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
