import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { isBesideTheBus, loadFacts, loadMeasure, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const overloadedSegment = segmentRule({
  id: 'overloaded-segment',
  severity: 'error',
  basis: 'standard',
  missing: (balance, context) => (balance.verdict === 'insufficient' ? null : noCapacity(balance, context)),
  *check(balance, { words }) {
    const { segment, verdict, judged } = balance;
    const { load, ratedUa } = judged;
    if (verdict !== 'insufficient' || isBesideTheBus(balance)) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        ...loadMeasure(load, balance.breakEven.toInsufficientUa, words),
        limit: toMa(ratedUa),
        whole: toMa(ratedUa),
      },
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        supplies: segment.supplies.length,
        ratedMa: toMa(ratedUa),
        excessMa: toMa(load.totalUa - ratedUa),
        overTargetMa: balance.targetUa === null ? null : toMa(load.totalUa - balance.targetUa),
        share: load.totalUa / ratedUa,
        boundariesKnown: segment.boundariesKnown,
      },
    };
  },
});
