import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { loadFacts, loadMeasure, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const lowHeadroom = segmentRule({
  id: 'low-headroom',
  severity: 'warning',
  basis: 'common practice',
  missing: (balance, context) => (balance.verdict === 'sufficient' ? null : noCapacity(balance, context)),
  *check(balance, { words }) {
    const { segment, verdict, judged, targetUa, utilisation } = balance;
    const { load, ratedUa } = judged;
    if (verdict !== 'tight' || targetUa === null || utilisation === null) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        ...loadMeasure(load, balance.breakEven.toTightUa, words),
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
});
