import type { Segment } from '../../plant/plant.js';
import type { Policy } from '../../policy/policy.js';
import { toA } from '../../units.js';
import type { NetworkLoad } from '../network/network.js';
import { CURRENT_CLASS_V } from '../standard.js';

/** Something that draws from the bus, and where it sits. */
export interface Draw {
  readonly device: string;
  readonly ua: number;
  /** Position of its point in the layout; null if the sheet does not place it. */
  readonly point: number | null;
}

/** What a segment draws, in the order of its loads. @param pointOf by the device's id */
export function drawsOf({ loads }: Segment, pointOf: ReadonlyMap<string, number>): Draw[] {
  return loads.map(({ device, current }) => ({
    device: device.id,
    ua: current.ua,
    point: pointOf.get(device.id) ?? null,
  }));
}

/**
 * A current as a load of the network. Where the policy takes constant power, it is what the current comes to at the 24 V
 * for which current classes are stated (volume 4/1 §2.7).
 */
export function asLoad(node: number, ua: number, { deviceModel }: Policy): NetworkLoad {
  const amps = toA(ua);
  return deviceModel === 'constant power' ? { node, watts: amps * CURRENT_CLASS_V } : { node, amps };
}
