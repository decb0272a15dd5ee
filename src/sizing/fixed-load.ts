import type { Line, Load, Segment } from '../plant/plant.js';

/** What hangs on a segment, parted into what could hang on another line as well and what could not. */
export interface Parted {
  readonly movable: readonly Load[];
  /** Couplers, and supplies that take part on the bus. */
  readonly fixed: readonly Load[];
}

export function partedLoads({ loads }: Segment): Parted {
  const isMovable = ({ chargedAs, device }: Load) => chargedAs === 'participant' && device.role === 'consumer';
  return { movable: loads.filter(isMovable), fixed: loads.filter((load) => !isMovable(load)) };
}

/** Whether a line next to new ones has to get a coupler of its own, on its first segment. */
export function lacksCoupler({ lineAddress, segments }: Line): boolean {
  const devices = segments.flatMap((segment) => segment.devices);
  return lineAddress > 0 && !devices.some(({ joins }) => joins === 'line above');
}
