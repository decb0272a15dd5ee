import type { Balance } from '../../electrical/balance.js';
import { capacityOf } from '../../electrical/capacity.js';
import { targetOf } from '../../electrical/target.js';
import type { Line, Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import { sum } from '../../units.js';
import { suppliesWith } from '../choices.js';
import type { Demand } from '../demand.js';

/** Device addresses of a line beside 0, which is its coupler's (volume 3/2/2 §1.3: 256 of them). */
const ADDRESSES = 255;

/**
 * What may still be added to a segment that keeps its supplies, µA, with what is planned for it; negative where load has
 * to leave it. The bound is the target, and for a critical segment what is left when the largest supply fails.
 * @returns null where no load is small enough: the supplies promise nothing, do not report as they should, or leave
 * nothing when the largest fails
 */
export function roomOf(demand: Demand, policy: Policy): number | null {
  const { unrated, keepable, loadUa, plannedUa, isCritical, wantsReporting } = demand;
  const supplies = suppliesWith({ kept: keepable, removed: [], added: [] }, demand);
  if (unrated.length > 0 || (wantsReporting && supplies.some(({ isReporting }) => !isReporting))) return null;
  const { usableUa, withoutLargestUa } = capacityOf(supplies);
  if (usableUa === null || withoutLargestUa === null) return null;
  const target = targetOf(usableUa, policy);
  const mostUa = isCritical ? Math.min(target, withoutLargestUa) : target;
  return mostUa > 0 ? mostUa - loadUa - plannedUa : null;
}

/** Places that a segment has left beside those that are planned; it stays within the classic number if it is within it. */
export function placesLeft({ placesUsed, growth }: Balance, { devicesClassic, devicesGreatest }: Policy): number {
  const used = placesUsed + growth.devices;
  return (used <= devicesClassic ? devicesClassic : devicesGreatest) - used;
}

/** Addresses of a line that nothing on it takes. */
export function addressesLeft({ segments }: Line): number {
  return ADDRESSES - sum(segments.map(addressesOn));
}

/** A participant that has none yet will take one. */
function addressesOn({ devices }: Segment): number {
  const taking = devices.filter(({ address, participates }) => participates || address !== null);
  return sum(taking.map(({ address, additionalAddresses }) => (isZero(address) ? 0 : 1) + additionalAddresses.length));
}

function isZero(address: string | null): boolean {
  return address?.endsWith('.0') ?? false;
}
