import { DECENTRAL_RATING_MA } from '../electrical/standard.js';
import { type Policy, SUPPLY_KINDS, type SupplyKind } from '../policy/policy.js';
import { fromMa } from '../units.js';
import type { StockUnit } from './choice.js';

/** Whether the least price can decide: not where an entry of the stock has none. */
export function isPriced({ stock }: Policy): boolean {
  return stock.every(({ price }) => price !== undefined);
}

/**
 * The central supplies that may be ordered in one of some kinds, rising, each rating once: of several entries and kinds
 * of a rating the one that {@link compareUnits} puts first, as they differ in nothing else.
 */
export function unitsInStock(policy: Policy, kinds: readonly SupplyKind[]): StockUnit[] {
  const all = policy.stock.flatMap((entry, position) =>
    entry.kinds
      .filter((kind) => kinds.includes(kind))
      .map(
        (kind): StockUnit => ({
          ratingUa: fromMa(entry.ratingMa),
          kind,
          orderNumber: entry.orderNumber ?? null,
          railUnits: entry.railUnits ?? null,
          priceHundredths: entry.price === undefined ? null : Math.round(entry.price * 100),
          entry: position,
        }),
      ),
  );
  const central = all.filter(({ ratingUa }) => ratingUa > fromMa(DECENTRAL_RATING_MA));
  const sorted = central.sort((a, b) => a.ratingUa - b.ratingUa || compareUnits(a, b, isPriced(policy)));
  return sorted.filter(({ ratingUa }, at) => sorted[at - 1]?.ratingUa !== ratingUa);
}

/** Of units of one rating: the cheapest where all have a price, the plainest, the narrowest, the first in the policy. */
function compareUnits(a: StockUnit, b: StockUnit, isByPrice: boolean): number {
  return (
    (isByPrice ? (a.priceHundredths ?? 0) - (b.priceHundredths ?? 0) : 0) ||
    SUPPLY_KINDS.indexOf(a.kind) - SUPPLY_KINDS.indexOf(b.kind) ||
    widthOf(a) - widthOf(b) ||
    a.entry - b.entry
  );
}

/** What nobody knows is taken last. */
function widthOf({ railUnits }: StockUnit): number {
  return railUnits ?? Number.MAX_VALUE;
}
