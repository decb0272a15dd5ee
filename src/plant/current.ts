import type { Policy } from '../policy/policy.js';
import { fromMa, parseMilliamps } from '../units.js';
import type { AssumedBecause, Current, Device } from './plant.js';

/** What is known of a product's current. */
type Known = Pick<Device, 'product' | 'override'>;

/**
 * What a participant draws on its own segment: by the policy if that says so, else declared, else the rule of thumb with
 * the reason.
 */
export function currentOf({ product, override }: Known, policy: Policy): Current {
  if (override?.currentMa !== undefined) return { ua: fromMa(override.currentMa), origin: 'overridden' };
  if (product === null) return assumed('product not in the archive', policy);
  if (product.declared === null) return assumed('not declared', policy);
  const ua = parseMilliamps(product.declared);
  if (ua === undefined) return assumed('unreadable', policy);
  return ua < 0 ? assumed('negative', policy) : { ua, origin: 'declared' };
}

/** What a coupler draws from the line above. A combined unit declares its rating, so that side is not declared. */
export function upperSideCurrentOf(device: Device, policy: Policy): Current {
  const { role, override } = device;
  if (role === 'supply and coupler' && override?.currentMa === undefined)
    return assumed('upper side of a combined supply and coupler', policy);
  return currentOf(device, policy);
}

/**
 * Rated output of a supply in µA: by the policy if that says so, else as declared, the magnitude, as the sign differs by
 * maker; null if none is declared.
 */
export function ratingOf({ product, override }: Known, policy: Policy): number | null {
  if (override?.ratingMa !== undefined) return fromMa(override.ratingMa);
  const declared = product?.declared == null ? undefined : parseMilliamps(product.declared);
  const ua = Math.abs(declared ?? 0);
  return ua < fromMa(policy.leastRatingMa) ? null : ua;
}

function assumed(because: AssumedBecause, policy: Policy): Current {
  return { ua: fromMa(policy.assumedCurrentMa), origin: 'assumed', because };
}
