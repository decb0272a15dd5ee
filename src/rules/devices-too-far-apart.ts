import type { Balance } from '../electrical/balance.js';
import { noBoundaries } from './judged.js';
import { type LengthLimit, lengthText, limitText, noCableSaid, openLength, tooLong } from './on-site.js';
import { segmentRule } from './rule.js';

const BETWEEN_DEVICES: LengthLimit = {
  quantity: 'cable between two devices',
  setBy: 'deviceToDeviceM',
  of: ({ deviceToDeviceM }) => deviceToDeviceM,
};

export const devicesTooFarApart = segmentRule({
  id: 'devices-too-far-apart',
  title: 'Two devices of a segment are too far apart',
  severity: 'error',
  why: 'Devices that send at once tell from each other’s bits who goes on; over too much cable these arrive too late, and telegrams collide.',
  remedy: 'Split the segment between them, or lay the cable on a shorter way.',
  limit: 'cable between any two devices of a segment ≤ 700 m unless the policy says otherwise',
  basis: 'standard',
  source: 'volume 3/2/2',
  missing: (balance, context) =>
    noBoundaries(balance) ??
    noCableSaid(balance, context) ??
    (hasTwoDevices(balance) ? openLength(balance, context, BETWEEN_DEVICES) : null),
  check: (balance, context) => tooLong(balance, context, BETWEEN_DEVICES),
  message: (f) => `Two devices of line ${f.segment} have ${lengthText(f)} of cable between them; ${limitText(f)}.`,
  advice: (f) =>
    `Split the segment between the two, or lay the cable so that the way between them is ${f.excessM} m or more shorter.`,
});

/** A coupler may be charged twice and is one device. */
function hasTwoDevices({ segment: { loads } }: Balance): boolean {
  return new Set(loads.map(({ device }) => device.id)).size > 1;
}
