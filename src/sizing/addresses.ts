import type { Device } from '../plant/plant.js';
import type { PlacedDevice } from './split-plan.js';

/**
 * Addresses on another line: each device keeps its number there, so that the new one is found from the old one; a
 * number that another has taken, and the coupler's, is not proposed again.
 * @param line area.line
 */
export function withAddressesOn(line: string, devices: readonly Device[]): PlacedDevice[] {
  const taken = new Set([`${line}.0`]);
  const on = (address: string): string[] => {
    const moved = `${line}.${address.split('.').at(-1)}`;
    if (taken.has(moved)) return [];
    taken.add(moved);
    return [moved];
  };
  return devices.map((device) => ({
    device,
    address: device.address === null ? null : (on(device.address)[0] ?? null),
    additionalAddresses: device.additionalAddresses.flatMap(on),
  }));
}

/** As they are. */
export function withOwnAddresses(devices: readonly Device[]): PlacedDevice[] {
  return devices.map((device) => {
    const { address, additionalAddresses } = device;
    return { device, address, additionalAddresses };
  });
}
