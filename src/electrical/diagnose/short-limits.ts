import type { Supply } from '../../plant/plant.js';
import type { SupplySite } from '../../site/site.js';
import { fromMa, toMa } from '../../units.js';
import { shortCircuitOf } from '../capacity.js';
import type { ExpectedInput } from '../expected.js';
import { SHORT_CIRCUIT_SUM_MA } from '../standard.js';
import { exactly, type Range } from './range.js';

/**
 * What each supply of the group gives at most into a short, mA, by its device id. The sheet may state it. Otherwise it
 * is anything from the rating, which a supply has to give, to the greatest short-circuit current of the standard (volume
 * 9/2, figure 3); of an unrated one from the least rating there is to the greatest sum on a segment. Where a
 * current is measured at the supply, about that is taken for it, within the range: like the voltage at the terminals it
 * is no part of the cause, and costs nothing (see `supplyLeeway` in `fit.ts`).
 * @param share of the measured current that is taken
 */
export function shortLimits(plan: ExpectedInput, share: number): Map<string, Range> {
  const measured = new Map(plan.entry.measured?.currents.map(({ supply, ua }) => [supply, toMa(ua)]));
  return new Map(
    plan.group.supplies.map((supply) => {
      const range = shortLimitOf(supply, plan);
      const ma = measured.get(supply.device.id);
      const isMeasured = ma !== undefined;
      return [supply.device.id, isMeasured ? exactly(Math.min(range.high, Math.max(range.low, ma * share))) : range];
    }),
  );
}

/** As measured, by half of the usual tolerance less and more, and none of it, so the rating (derived here). */
const SHARES = [1, 0.9, 1.1, 0];

/** The shares of measured currents that come to different limits: a single one where no supply is above its rating. */
export function limitShares(plan: ExpectedInput): number[] {
  const seen = new Set<string>();
  return SHARES.filter((share) => {
    const limits = JSON.stringify([...shortLimits(plan, share)]);
    const isNew = !seen.has(limits);
    seen.add(limits);
    return isNew;
  });
}

function shortLimitOf({ device, ratingUa }: Supply, { site, policy }: ExpectedInput): Range {
  const statedUa = site.supplies.get(device.id)?.limitUa ?? null;
  if (statedUa !== null) return exactly(toMa(statedUa));
  if (ratingUa === null) return { low: policy.leastRatingMa, high: SHORT_CIRCUIT_SUM_MA };
  // Decentral supplies have rules of their own, and are taken to give their rating.
  return { low: toMa(ratingUa), high: toMa(Math.max(ratingUa, shortCircuitOf(ratingUa))) };
}

const UNSAID: SupplySite = {
  place: '',
  mainsCircuit: null,
  board: null,
  terminalV: null,
  leastTerminalV: null,
  sourceOhm: null,
  limitUa: null,
  choke: null,
};

/** The plan with what its supplies give at most being one end of the ranges. */
export function limitedTo(plan: ExpectedInput, limits: ReadonlyMap<string, Range>, end: keyof Range): ExpectedInput {
  const supplies = new Map(plan.site.supplies);
  for (const [id, range] of limits) {
    supplies.set(id, { ...(supplies.get(id) ?? UNSAID), limitUa: fromMa(range[end]) });
  }
  return { ...plan, site: { ...plan.site, supplies } };
}
