import type { Policy } from '../policy/policy.js';
import { fromMa } from '../units.js';

const PARTS = 1_000_000;

/**
 * The load to which a capacity is planned, whole µA, rounded down; since loads are whole µA too, `load > targetOf(…)`
 * is exactly `load > target × capacity`.
 */
export function targetOf(capacityUa: number, { targetLoad }: Policy): number {
  return Math.floor((capacityUa * Math.round(targetLoad * PARTS)) / PARTS);
}

/** The smallest rating in stock that carries a load within the target, µA; null if none does. */
export function suggestedRating(loadUa: number, policy: Policy): number | null {
  return ratingsInStock(policy).find((ratingUa) => loadUa <= targetOf(ratingUa, policy)) ?? null;
}

/** The greatest rating in stock that is less than two sizes above another, µA; the other where there is none. */
export function greatestUsual(suggestedUa: number, policy: Policy): number {
  const sizes = ratingsInStock(policy);
  return sizes[sizes.indexOf(suggestedUa) + 1] ?? suggestedUa;
}

/** Two stock sizes above what would do: money and mains loss for nothing. */
export function isOversized(ratingUa: number, suggestedUa: number, policy: Policy): boolean {
  const sizes = ratingsInStock(policy);
  const twoAbove = sizes[sizes.indexOf(suggestedUa) + 2];
  return twoAbove !== undefined && ratingUa >= twoAbove;
}

/** The ratings in stock, rising, each once, µA. */
function ratingsInStock({ stock }: Policy): number[] {
  return [...new Set(stock.map(({ ratingMa }) => fromMa(ratingMa)))].sort((a, b) => a - b);
}
