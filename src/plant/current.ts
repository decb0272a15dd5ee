import type { Policy } from '../policy/policy.js';
import { fromMa, parseMilliamps } from '../units.js';
import type { AssumedBecause, Current, Device, Product } from './plant.js';

/** What a participant draws on its own segment: declared if it says so, else the rule of thumb with the reason. */
export function currentOf(product: Product | null, policy: Policy): Current {
  if (product === null) return assumed('product not in the archive', policy);
  if (product.declared === null) return assumed('not declared', policy);
  const ua = parseMilliamps(product.declared);
  if (ua === undefined) return assumed('unreadable', policy);
  return ua < 0 ? assumed('negative', policy) : { ua, origin: 'declared' };
}

/** What a coupler draws from the line above. A combined unit declares its rating, so that side is not declared. */
export function upperSideCurrentOf(device: Device, policy: Policy): Current {
  if (device.role === 'supply and coupler') return assumed('upper side of a combined supply and coupler', policy);
  return currentOf(device.product, policy);
}

/** Rated output of a supply in µA: the magnitude, as the sign differs by maker; null if none is declared. */
export function ratingOf({ product }: Device, policy: Policy): number | null {
  const declared = product?.declared == null ? undefined : parseMilliamps(product.declared);
  const ua = Math.abs(declared ?? 0);
  return ua < fromMa(policy.leastRatingMa) ? null : ua;
}

function assumed(because: AssumedBecause, policy: Policy): Current {
  return { ua: fromMa(policy.assumedCurrentMa), origin: 'assumed', because };
}
