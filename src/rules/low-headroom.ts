import { segmentLabel } from '../plant/plant.js';
import { percent, toMa } from '../units.js';
import { loadFacts, loadMeasure, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { assumedRemark, chargedText, milliamps, segmentSubject, supplyAdvice } from './words.js';

export const lowHeadroom = segmentRule({
  id: 'low-headroom',
  title: 'The load is above the target share of the rating',
  severity: 'warning',
  why: 'A supply is planned to about four fifths of its rating: a good working point, with room for devices that are added later.',
  remedy: 'Fit the next larger supply before the segment is extended, or keep its load as it is on purpose.',
  limit: 'load ≤ target share (80 % unless the policy says otherwise) × sum of the ratings',
  basis: 'common practice',
  source: 'common practice, no source; the target is the policy’s',
  missing: (balance) => (balance.verdict === 'sufficient' ? null : noCapacity(balance)),
  *check(balance) {
    const { segment, verdict, judged, targetUa, utilisation } = balance;
    const { load, ratedUa } = judged;
    if (verdict !== 'tight' || targetUa === null || utilisation === null) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        ...loadMeasure(load, balance.breakEven.toTightUa),
        limit: toMa(targetUa),
        setBy: 'targetLoad',
        whole: toMa(ratedUa),
      },
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        ratedMa: toMa(ratedUa),
        targetMa: toMa(targetUa),
        excessMa: toMa(load.totalUa - targetUa),
        share: utilisation,
      },
    };
  },
  message: (f) =>
    `${chargedText(f)}, ${percent(f.share)} of ${milliamps(f.ratedMa)}; the target is ${milliamps(f.targetMa)}, exceeded by ${milliamps(f.excessMa)}.${assumedRemark(f.assumedMa, f.assumedItems)}`,
  advice: (f) => `Before anything is added: ${supplyAdvice(f.suggestedRatingMa, f.plannedMa)}.`,
});
