import { noBoundaries } from './judged.js';
import { type LengthLimit, lengthText, limitText, noCableSaid, openLength, tooLong } from './on-site.js';
import { segmentRule } from './rule.js';

const ALL_CABLE: LengthLimit = {
  quantity: 'cable of the segment',
  setBy: 'cablePerSegmentM',
  of: ({ totalM }) => totalM,
};

export const cableTooLong = segmentRule({
  id: 'cable-too-long',
  title: 'More cable than a segment may have',
  severity: 'error',
  why: 'All cable of a segment loads the signals with its capacitance; with more than is allowed telegrams are repeated or lost.',
  remedy: 'Split the segment, or shorten its cable.',
  limit:
    'all cable of a segment together ≤ 1000 m unless the policy says otherwise; a second pair in parallel is the same cable',
  basis: 'standard',
  source: 'volume 3/2/2; volume 4/4 §7 for the second pair',
  missing: (balance, context) =>
    noBoundaries(balance) ?? noCableSaid(balance, context) ?? openLength(balance, context, ALL_CABLE),
  check: (balance, context) => tooLong(balance, context, ALL_CABLE),
  message: (f) => `The cable of line ${f.segment} is ${lengthText(f)} long; ${limitText(f)}.`,
  advice: (f) =>
    `Split the segment so that ${f.excessM} m or more of its cable become one of their own, with a supply of its own; a second pair or thicker wires do not help against length.`,
});
