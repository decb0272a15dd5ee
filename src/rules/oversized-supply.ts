import { greatestUsual, isOversized } from '../electrical/target.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const oversizedSupply = segmentRule({
  id: 'oversized-supply',
  severity: 'note',
  basis: 'common practice',
  missing: noCapacity,
  *check(balance, { policy, words }) {
    const { segment, capacity, load, suggestedRatingUa } = balance;
    if (segment.supplies.length !== 1 || capacity.usableUa === null || suggestedRatingUa === null) return;
    if (!isOversized(capacity.usableUa, suggestedRatingUa, policy)) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.rating,
        unit: 'mA',
        value: toMa(capacity.usableUa),
        limit: toMa(greatestUsual(suggestedRatingUa, policy)),
        holds: 'at most',
        setBy: 'stock',
      },
      restsOn: restsOn(balance),
      facts: {
        segment: segmentLabel(segment),
        ratedMa: toMa(capacity.usableUa),
        loadMa: toMa(load.totalUa),
        suggestedRatingMa: toMa(suggestedRatingUa),
      },
    };
  },
});
