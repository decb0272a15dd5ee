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
  return stock(policy).find((ratingUa) => loadUa <= targetOf(ratingUa, policy)) ?? null;
}

/** Two stock sizes above what would do: money and mains loss for nothing. */
export function isOversized(ratingUa: number, suggestedUa: number, policy: Policy): boolean {
  const sizes = stock(policy);
  const twoAbove = sizes[sizes.indexOf(suggestedUa) + 2];
  return twoAbove !== undefined && ratingUa >= twoAbove;
}

function stock({ ratingsMa }: Policy): number[] {
  return ratingsMa.map(fromMa).sort((a, b) => a - b);
}
