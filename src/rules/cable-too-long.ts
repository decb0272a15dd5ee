import { noBoundaries } from './judged.js';
import { type LengthLimit, noCableSaid, openLength, tooLong } from './on-site.js';
import { segmentRule } from './rule.js';

const ALL_CABLE: LengthLimit = {
  quantity: 'cable',
  setBy: 'cablePerSegmentM',
  of: ({ totalM }) => totalM,
};

export const cableTooLong = segmentRule({
  id: 'cable-too-long',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) =>
    noBoundaries(balance, context) ?? noCableSaid(balance, context) ?? openLength(balance, context, ALL_CABLE),
  check: (balance, context) => tooLong(balance, context, ALL_CABLE),
});
