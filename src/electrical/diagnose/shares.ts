import { sum, toMa } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { loadSum } from '../load.js';
import { terminalsOf } from '../voltage/sources.js';
import type { Change } from './change.js';
import { exactly, highestOf, type Range } from './range.js';

/** What the supplies carry together, mA. @param plan with the change in it, but for what is drawn on top */
export function wholeMa({ group, site }: ExpectedInput, { extra, strangeUa = 0 }: Change): number {
  const loads = group.segments.map((one) => loadSum(one.loads, site.segments.get(one.id)?.auxiliaryUa ?? 0));
  return toMa(sum(loads.map(({ totalUa }) => totalUa)) + (extra?.ua ?? 0) + strangeUa);
}

/** What each supply of the group delivers at most, mA; Infinity where nobody knows. */
export function limitsMa({ group, site, policy }: ExpectedInput): number[] {
  return group.supplies.map((supply) => terminalsOf(supply, 'typical', site, policy).limitA * 1000);
}

/** What one supply gives of a whole, where nobody knows the shares: what the others leave to it, mA. */
export function shareOf(whole: number, own: number, limits: readonly number[]): Range {
  const limit = limits[own] ?? Number.POSITIVE_INFINITY;
  const others = sum(limits.filter((_, at) => at !== own));
  return { low: Math.min(limit, Math.max(0, whole - others)), high: Math.min(limit, whole) };
}

/** What a supply gives where the voltage has collapsed: its limit, mA. */
export function atLimit(limit: number): Range {
  return Number.isFinite(limit) ? exactly(limit) : { low: 0, high: limit };
}

/** How far the supply that is nearest to its limit is above it, mA; null where no limit is known. */
export function beyondLimit(plan: ExpectedInput, current: (supply: string) => Range | null): Range | null {
  const margins = plan.segment.supplies.flatMap((supply) => {
    const limit = terminalsOf(supply, 'typical', plan.site, plan.policy).limitA * 1000;
    const range = current(supply.device.id);
    return range === null || !Number.isFinite(limit) ? [] : [{ low: range.low - limit, high: range.high - limit }];
  });
  return margins.length === 0 ? null : highestOf(margins);
}
