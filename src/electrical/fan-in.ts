import type { Load } from '../plant/plant.js';
import { fromMa, sum } from '../units.js';
import { CURRENT_CLASS, FAN_IN_WEIGHT } from './standard.js';

/** The standard's own count of what a segment carries, beside the plain sum. */
export interface FanIn {
  /** Sum of the current classes, µA; by the standard it stays below the nominal current of the supply. */
  readonly classSumUa: number;
  /** Sum of the device weights; by the standard it stays below 257. */
  readonly weight: number;
}

/** Fan-in by volume 4/1 §2.7. The archive tells no weight, so a device has the default unless the policy knows better. */
export function fanInOf(loads: readonly Load[]): FanIn {
  return {
    classSumUa: sum(loads.map(({ current }) => currentClass(current.ua))),
    weight: sum(loads.map(({ device }) => device.override?.fanInWeight ?? FAN_IN_WEIGHT.default)),
  };
}

/** The current class, µA: the current rounded up to the next step of 2.5 mA up to 20 mA, of 5 mA above. */
export function currentClass(ua: number): number {
  const step = fromMa(ua <= fromMa(CURRENT_CLASS.fineUpToMa) ? CURRENT_CLASS.fineStepMa : CURRENT_CLASS.coarseStepMa);
  return Math.ceil(ua / step) * step;
}
