import type { Device } from '../plant/plant.js';

/** A path that is longer is of no building, and to look into it would cost what it is long. */
const LONGEST_PATH = 1000;

/** Where a device is, as far as that tells one place from another; null where nobody says, or at endless length. */
export function whereOf({ location }: Pick<Device, 'location'>): string | null {
  return location !== null && location.length <= LONGEST_PATH ? location : null;
}

/** What should stay together: a board or a room; a device that is nowhere is its own. No path begins with a blank. */
export function groupOf(device: Pick<Device, 'id' | 'location'>): string {
  return whereOf(device) ?? ` ${device.id}`;
}
