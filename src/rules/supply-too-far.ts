import { noBoundaries } from './judged.js';
import { type LengthLimit, lengthText, limitText, noCableSaid, noSupply, openLength, tooLong } from './on-site.js';
import { segmentRule } from './rule.js';

const FROM_SUPPLY: LengthLimit = {
  quantity: 'cable from the nearest supply',
  setBy: 'supplyToDeviceM',
  of: ({ supplyToDeviceM }) => supplyToDeviceM,
};

export const supplyTooFar = segmentRule({
  id: 'supply-too-far',
  title: 'A device is too far from the nearest supply',
  severity: 'error',
  why: 'The choke of the supply shapes the pulses of every device; over too much cable they arrive out of shape, whatever the voltage is.',
  remedy: 'Move the supply towards the middle of the segment, add one, or split the segment.',
  limit: 'cable from a device to its nearest supply ≤ 350 m unless the policy says otherwise',
  basis: 'standard',
  source: 'volume 9/2 §2.11',
  missing: (balance, context) => {
    const unsaid = noBoundaries(balance) ?? noCableSaid(balance, context);
    if (unsaid !== null || balance.segment.loads.length === 0) return unsaid;
    return noSupply(balance) ?? openLength(balance, context, FROM_SUPPLY);
  },
  check: (balance, context) => tooLong(balance, context, FROM_SUPPLY),
  message: (f) =>
    `The device of line ${f.segment} that is farthest from a supply has ${lengthText(f)} of cable to the nearest one; ${limitText(f)}.`,
  advice: (f) =>
    `Bring a supply ${f.excessM} m or more nearer to it: move the one there is towards the middle, or add one, as far as the distance between chokes and the short-circuit currents admit. Otherwise split the segment.`,
});
