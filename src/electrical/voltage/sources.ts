import type { Supply } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import type { Site } from '../../site/site.js';
import { toA } from '../../units.js';
import { chokeDropV } from '../reach.js';

/** The two cases that are always worked out: what is usual, and the worst that the supplies may do. */
export const VOLTAGE_CASES = ['typical', 'least'] as const;

export type VoltageCase = (typeof VOLTAGE_CASES)[number];

/** A supply as a source of the network, at its terminals. */
export interface Terminals {
  readonly supply: Supply;
  readonly emfV: number;
  readonly ohm: number;
  /** Infinity where neither a limit nor a rating is known. */
  readonly limitA: number;
}

/**
 * The terminals of a supply in one of the cases. What the site sheet says of it goes before the policy's voltages; the
 * least voltage is that of the policy less the greatest drop over the choke, as in the reach. A supply promises no more
 * than its rating, so that is its limit unless the sheet states one.
 */
export function terminalsOf(supply: Supply, of: VoltageCase, site: Site, policy: Policy): Terminals {
  const known = site.supplies.get(supply.device.id);
  const typicalV = known?.terminalV ?? policy.typicalSupplyV;
  const leastV = known?.leastTerminalV ?? Math.min(typicalV, policy.leastSupplyV - chokeDropV(supply.ratingUa));
  const limitUa = known?.limitUa ?? supply.ratingUa;
  return {
    supply,
    emfV: of === 'typical' ? typicalV : leastV,
    ohm: known?.sourceOhm ?? 0,
    limitA: limitUa === null ? Number.POSITIVE_INFINITY : toA(limitUa),
  };
}
