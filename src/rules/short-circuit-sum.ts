import { SHORT_CIRCUIT_SUM_MA } from '../electrical/standard.js';
import { segmentLabel } from '../plant/plant.js';
import { fromMa, toMa, toMaOrNull } from '../units.js';
import { noBoundaries } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const shortCircuitSum = segmentRule({
  id: 'short-circuit-sum',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) => {
    const { capacity } = balance;
    const isOpen = capacity.unrated > 0 && balance.segment.supplies.length > 1 && !capacity.shortCircuitExceeded;
    return noBoundaries(balance, context) ?? (isOpen ? context.words.missing.rating : null);
  },
  *check({ segment, capacity }, { words }) {
    if (!capacity.shortCircuitExceeded) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.shortCircuitSum,
        unit: 'mA',
        value: toMa(capacity.shortCircuitUa),
        limit: SHORT_CIRCUIT_SUM_MA,
        holds: 'at most',
      },
      restsOn: 'declared',
      facts: {
        segment: segmentLabel(segment),
        sumMa: toMa(capacity.shortCircuitUa),
        excessMa: toMa(capacity.shortCircuitUa - fromMa(SHORT_CIRCUIT_SUM_MA)),
        ratingsMa: segment.supplies.map(({ ratingUa }) => toMaOrNull(ratingUa)),
      },
    };
  },
});
