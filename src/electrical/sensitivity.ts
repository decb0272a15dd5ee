import type { Policy } from '../policy/policy.js';
import { fromMa } from '../units.js';

/** The load at the bounds of what devices that declare nothing may draw, µA. */
export interface LoadBounds {
  readonly lowUa: number;
  readonly highUa: number;
}

/**
 * The bounds of a load. Every assumed item stands for a device that nobody looked up: it may draw as little or as much
 * as the policy's bounds say.
 * @param knownUa what is declared or overridden, µA
 */
export function boundsOf(
  knownUa: number,
  assumedItems: number,
  { assumedLowMa, assumedHighMa }: Pick<Policy, 'assumedLowMa' | 'assumedHighMa'>,
): LoadBounds {
  return {
    lowUa: knownUa + assumedItems * fromMa(assumedLowMa),
    highUa: knownUa + assumedItems * fromMa(assumedHighMa),
  };
}
