import type { Balance } from '../electrical/balance.js';
import { noBoundaries } from './judged.js';
import { type LengthLimit, noCableSaid, openLength, tooLong } from './on-site.js';
import { segmentRule } from './rule.js';

const BETWEEN_DEVICES: LengthLimit = {
  quantity: 'cableBetweenDevices',
  setBy: 'deviceToDeviceM',
  of: ({ deviceToDeviceM }) => deviceToDeviceM,
};

export const devicesTooFarApart = segmentRule({
  id: 'devices-too-far-apart',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) =>
    noBoundaries(balance, context) ??
    noCableSaid(balance, context) ??
    (hasTwoDevices(balance) ? openLength(balance, context, BETWEEN_DEVICES) : null),
  check: (balance, context) => tooLong(balance, context, BETWEEN_DEVICES),
});

/** A coupler may be charged twice and is one device. */
function hasTwoDevices({ segment: { loads } }: Balance): boolean {
  return new Set(loads.map(({ device }) => device.id)).size > 1;
}
