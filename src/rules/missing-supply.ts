import type { Balance } from '../electrical/balance.js';
import { segmentLabel } from '../plant/plant.js';
import { loadFacts, noCapacity, noPower, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { count, milliamps, segmentSubject, supplyAdvice } from './words.js';

/** No supply stands on the segment, but one elsewhere may feed it. */
function isFeedOpen({ segment, verdict }: Balance): boolean {
  return verdict === 'undecidable' && (segment.supplies.length === 0 || !segment.boundariesKnown);
}

export const missingSupply = segmentRule({
  id: 'missing-supply',
  title: 'Bus-powered devices, and no supply on the segment',
  severity: 'error',
  why: 'Without a supply the segment is dead. In the project file a supply is easily forgotten, as it often has no address.',
  remedy: 'Order a supply for the segment, or enter the one that is there in the project.',
  limit: 'every electrical segment with bus-powered devices or couplers has a supply',
  basis: 'standard',
  source: 'volume 3/2/2 §1.3.2: each segment has its own supply',
  missing: (balance) => (isFeedOpen(balance) ? noCapacity(balance) : noPower(balance)),
  *check(balance) {
    const { segment, verdict } = balance;
    if (verdict !== 'unfed') return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'participants without a supply',
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
  message: (f) => {
    const couplers =
      f.couplersFromBelow === 0 ? '' : ` (${count(f.couplersFromBelow, 'coupler')} of lines below among them)`;
    return `Line ${f.segment} has no supply for ${count(f.items, 'participant')}${couplers} that ${f.items === 1 ? 'draws' : 'draw'} ${milliamps(f.loadMa)}.${unknownText(f.unknownProducts)}`;
  },
  advice: (f) => {
    const first = f.unknownProducts > 0 ? 'Export the project again with its product data first. ' : '';
    const order = f.boundariesKnown
      ? `Order one: ${supplyAdvice(f.suggestedRatingMa, f.plannedMa)}. If one is fitted already, enter it in the project.`
      : 'Find out where the electrical segments are, and order a supply for each. If they are fitted already, enter them in the project.';
    return first + order;
  },
});

/** What nobody knows could be anything, a supply as well. */
function unknownText(devices: number): string {
  if (devices === 0) return '';
  const which = devices === 1 ? '1 device here is of a product' : `${devices} devices here are of products`;
  return ` But ${which} that the archive does not hold, and may be the supply.`;
}
