import type { Balance } from '../electrical/balance.js';
import { segmentLabel } from '../plant/plant.js';
import { loadFacts, noCapacity, noPower, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

/** No supply stands on the segment, but one elsewhere may feed it. */
function isFeedOpen({ segment, verdict }: Balance): boolean {
  return verdict === 'undecidable' && (segment.supplies.length === 0 || !segment.boundariesKnown);
}

export const missingSupply = segmentRule({
  id: 'missing-supply',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) => (isFeedOpen(balance) ? noCapacity(balance, context) : noPower(balance, context)),
  *check(balance, { words }) {
    const { segment, verdict } = balance;
    if (verdict !== 'unfed') return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.unfedParticipants,
        unit: 'participants',
        value: segment.loads.length,
        limit: 0,
        holds: 'at most',
      },
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        couplersFromBelow: segment.loads.filter(({ chargedAs }) => chargedAs === 'coupler from below').length,
        unknownProducts: segment.devices.filter(({ product }) => product === null).length,
        boundariesKnown: segment.boundariesKnown,
      },
    };
  },
});
