import { busUa } from '../electrical/load.js';
import { segmentLabel } from '../plant/plant.js';
import { percent, toMa } from '../units.js';
import { isBesideTheBus, loadFacts, loadMeasure, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { assumedRemark, chargedText, milliamps, segmentSubject, supplyAdvice } from './words.js';

export const auxiliaryOverload = segmentRule({
  id: 'auxiliary-overload',
  title: 'The bus fits the supply, but not together with what its auxiliary output feeds',
  severity: 'error',
  why: 'The unchoked output shares the rating with the bus: what is drawn there is missing here, and the bus voltage falls although the bus load is within the rating.',
  remedy: 'Feed the auxiliary load from a supply of its own, or fit a larger supply.',
  limit: 'bus load + auxiliary load ≤ sum of the ratings of the supplies',
  basis: 'common practice',
  source: 'common practice, no source: the unchoked output shares the rating',
  missing: (balance) => (balance.verdict === 'insufficient' ? null : noCapacity(balance)),
  *check(balance) {
    const { segment, judged } = balance;
    const { load, ratedUa } = judged;
    if (!isBesideTheBus(balance)) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        ...loadMeasure(load, balance.breakEven.toInsufficientUa),
        quantity: 'bus and auxiliary load',
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
  message: (f) =>
    `${chargedText(f)}; its supplies are rated ${milliamps(f.ratedMa)}: ${milliamps(f.excessMa)} too much (${percent(f.share)}). The bus alone, ${milliamps(f.busMa)}, would fit.${assumedRemark(f.assumedMa, f.assumedItems)}`,
  advice: (f) =>
    `Feed the ${milliamps(f.auxiliaryMa)} beside the bus from a supply of their own, or change the supply: ${supplyAdvice(f.suggestedRatingMa, f.plannedMa)}.`,
});
