import { noBoundaries } from './judged.js';
import { type LengthLimit, noCableSaid, noSupply, openLength, tooLong } from './on-site.js';
import { segmentRule } from './rule.js';

const FROM_SUPPLY: LengthLimit = {
  quantity: 'cableFromSupply',
  setBy: 'supplyToDeviceM',
  of: ({ supplyToDeviceM }) => supplyToDeviceM,
};

export const supplyTooFar = segmentRule({
  id: 'supply-too-far',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) => {
    const unsaid = noBoundaries(balance, context) ?? noCableSaid(balance, context);
    if (unsaid !== null || balance.segment.loads.length === 0) return unsaid;
    return noSupply(balance, context) ?? openLength(balance, context, FROM_SUPPLY);
  },
  check: (balance, context) => tooLong(balance, context, FROM_SUPPLY),
});
