import { type Device, deviceLabel, type Segment } from '../plant/plant.js';
import { installationRule, type RuleContext } from './rule.js';

interface Taker {
  readonly device: Device;
  readonly segment: Segment;
  /** Taken beside the device's own address. */
  readonly isAdditional: boolean;
}

export const duplicateAddress = installationRule({
  id: 'duplicate-address',
  severity: 'error',
  basis: 'standard',
  *check(context) {
    const { facts } = context.words;
    for (const [address, takers] of takersOfRepeated(context)) {
      const ids = takers.map(({ device }) => device.id).sort();
      yield {
        subject: {
          kind: 'address',
          id: ids.join(' '),
          label: address,
          place: { line: takers.at(-1)?.device.sourceLine },
        },
        segments: [...new Set(takers.map(({ segment }) => segment))],
        measure: {
          quantity: facts.quantities.takers,
          unit: 'devices',
          value: takers.length,
          limit: 1,
          holds: 'at most',
        },
        restsOn: 'declared',
        facts: {
          address,
          takers: takers.map(({ device, isAdditional }) =>
            isAdditional ? facts.additionalAddress(deviceLabel(device)) : deviceLabel(device),
          ),
        },
      };
    }
  },
});

/** Who takes an address that others take too, in the order of the plant. Most plants have none. */
function takersOfRepeated(context: RuleContext): Map<string, Taker[]> {
  const repeated = repeatedAddresses(context);
  const takers = new Map<string, Taker[]>();
  if (repeated.size === 0) return takers;
  for (const { segment } of context.balances) {
    for (const device of segment.devices) {
      for (const address of new Set(addressesOf(device))) {
        if (!repeated.has(address)) continue;
        const earlier = takers.get(address) ?? [];
        earlier.push({ device, segment, isAdditional: address !== device.address });
        takers.set(address, earlier);
      }
    }
  }
  return takers;
}

function repeatedAddresses({ balances }: RuleContext): Set<string> {
  const first = new Map<string, Device>();
  const repeated = new Set<string>();
  for (const { segment } of balances) {
    for (const device of segment.devices) {
      for (const address of addressesOf(device)) {
        const taker = first.get(address);
        if (taker === undefined) first.set(address, device);
        else if (taker !== device) repeated.add(address);
      }
    }
  }
  return repeated;
}

function addressesOf({ address, additionalAddresses }: Device): readonly string[] {
  return address === null ? additionalAddresses : [address, ...additionalAddresses];
}
