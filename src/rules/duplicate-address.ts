import { type Device, deviceLabel, type Segment } from '../plant/plant.js';
import { installationRule, type RuleContext } from './rule.js';
import { list } from './words.js';

interface Taker {
  readonly device: Device;
  readonly segment: Segment;
  /** Taken beside the device's own address. */
  readonly isAdditional: boolean;
}

export const duplicateAddress = installationRule({
  id: 'duplicate-address',
  title: 'Two devices take one individual address',
  severity: 'error',
  why: 'Only one of them can be reached and loaded; the other may not be fitted at all, and then its current is charged for nothing.',
  remedy: 'Give one of them another address, or delete the device that does not exist.',
  limit: 'an individual address belongs to one device',
  basis: 'standard',
  source: 'volume 3/2/2 §1.3: 16 areas × 16 lines × 256 addresses',
  *check(context) {
    for (const [address, takers] of takersByAddress(context)) {
      if (takers.length < 2) continue;
      const ids = takers.map(({ device }) => device.id).sort();
      yield {
        subject: { kind: 'address', id: ids.join(' '), label: address },
        segments: [...new Set(takers.map(({ segment }) => segment))],
        restsOn: 'declared',
        facts: {
          address,
          takers: takers.map(({ device, isAdditional }) =>
            isAdditional ? `${deviceLabel(device)} (additional address)` : deviceLabel(device),
          ),
        },
      };
    }
  },
  message: (f) => `The address ${f.address} is taken by ${list(f.takers)}.`,
  advice: () => 'Keep one device on the address and give the others free ones; delete those that are not there.',
});

function takersByAddress({ balances }: RuleContext): Map<string, Taker[]> {
  const takers = new Map<string, Taker[]>();
  const take = (address: string, taker: Taker) => {
    const earlier = takers.get(address);
    if (earlier === undefined) takers.set(address, [taker]);
    else if (earlier.at(-1)?.device !== taker.device) earlier.push(taker); // a device takes all of its addresses in a row
  };
  for (const { segment } of balances) {
    for (const device of segment.devices) {
      if (device.address !== null) take(device.address, { device, segment, isAdditional: false });
      for (const address of device.additionalAddresses) take(address, { device, segment, isAdditional: true });
    }
  }
  return takers;
}
