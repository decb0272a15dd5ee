import type { Measured } from '../site/site.js';
import { sum } from '../units.js';
import type { Expected } from './expected.js';

/** Something that was measured, beside what was to be expected. */
export interface Comparison {
  readonly quantity: 'current' | 'voltage';
  /** µA or V. */
  readonly measured: number;
  readonly low: number;
  /** Infinity where nothing bounds it. */
  readonly high: number;
  /** Ids of the supplies that a current is of. */
  readonly supplies: readonly string[];
  /** Position of the point at which a voltage is; null at the far end. */
  readonly point: number | null;
}

/**
 * What was measured against what is expected. A current that is expected of several supplies together is compared once
 * all of them are measured.
 */
export function comparisonsOf({ currents, voltages }: Expected, measured: Measured): Comparison[] {
  return [
    ...currents.flatMap(({ supplies, lowUa, highUa }) => {
      const found = measured.currents.filter(({ supply }) => supplies.includes(supply));
      if (new Set(found.map(({ supply }) => supply)).size < supplies.length) return [];
      return {
        quantity: 'current' as const,
        measured: sum(found.map(({ ua }) => ua)),
        low: lowUa,
        high: highUa,
        supplies,
        point: null,
      };
    }),
    ...voltages.flatMap(({ point, lowV, highV }) => {
      const high = highV ?? Number.POSITIVE_INFINITY;
      return measured.voltages
        .filter((one) => one.point === point)
        .map(({ v }) => ({ quantity: 'voltage' as const, measured: v, low: lowV, high, supplies: [], point }));
    }),
  ];
}

/** By how much a measured value is outside, as a share of the bound that it is beyond; 0 within the bounds. */
export function beyond({ measured, low, high }: Comparison): number {
  if (measured < low) return (low - measured) / low;
  return measured > high ? (measured - high) / Math.max(high, Number.MIN_VALUE) : 0;
}

/** Whether it is on the side that harms: more current, less voltage. */
export function isWorse({ quantity, measured, low, high }: Comparison): boolean {
  return quantity === 'current' ? measured > high : measured < low;
}
