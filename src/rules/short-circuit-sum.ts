import { SHORT_CIRCUIT_SUM_MA } from '../electrical/standard.js';
import { segmentLabel } from '../plant/plant.js';
import { fromMa, toMa, toMaOrNull } from '../units.js';
import { noBoundaries } from './judged.js';
import { segmentRule } from './rule.js';
import { milliamps, segmentSubject } from './words.js';

export const shortCircuitSum = segmentRule({
  id: 'short-circuit-sum',
  title: 'The short-circuit currents of the supplies add up to too much',
  severity: 'error',
  why: 'Devices and cable are built for a bounded fault current; beyond it a short circuit can do damage before the supplies switch off.',
  remedy: 'Use supplies whose short-circuit currents stay within the sum, such as two of 640 mA, or split the segment.',
  limit: 'short-circuit currents on an electrical segment together ≤ 3 A',
  basis: 'standard',
  source: 'volume 9/2 figure 3 and §2.11, applied to the electrical segment (derived here)',
  missing: (balance) => {
    const { capacity } = balance;
    const isOpen = capacity.unrated > 0 && balance.segment.supplies.length > 1 && !capacity.shortCircuitExceeded;
    return noBoundaries(balance) ?? (isOpen ? 'the rating of a supply is not declared' : null);
  },
  *check({ segment, capacity }) {
    if (!capacity.shortCircuitExceeded) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'sum of the short-circuit currents',
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
  message: (f) =>
    `The supplies of line ${f.segment} (${f.ratingsMa.map((ma) => (ma === null ? 'unrated' : milliamps(ma))).join(' + ')}) may drive up to ${milliamps(f.sumMa)} into a short circuit; ${milliamps(SHORT_CIRCUIT_SUM_MA)} are allowed.`,
  advice: () =>
    'Two supplies of up to 640 mA stay within the sum, larger ones stand alone: change the supplies or split the segment. The short-circuit currents of the data sheets decide.',
});
