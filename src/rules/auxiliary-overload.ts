import { busUa } from '../electrical/load.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { isBesideTheBus, loadFacts, loadMeasure, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const auxiliaryOverload = segmentRule({
  id: 'auxiliary-overload',
  severity: 'error',
  basis: 'common practice',
  missing: (balance, context) => (balance.verdict === 'insufficient' ? null : noCapacity(balance, context)),
  *check(balance, { words }) {
    const { segment, judged } = balance;
    const { load, ratedUa } = judged;
    if (!isBesideTheBus(balance)) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        ...loadMeasure(load, balance.breakEven.toInsufficientUa, words),
        quantity: words.facts.quantities.busAndAuxiliary,
        limit: toMa(ratedUa),
        whole: toMa(ratedUa),
      },
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        busMa: toMa(busUa(load)),
        ratedMa: toMa(ratedUa),
        excessMa: toMa(load.totalUa - ratedUa),
        share: load.totalUa / ratedUa,
      },
    };
  },
});
