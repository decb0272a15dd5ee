import { suggestedRating } from '../electrical/target.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa, toMaOrNull } from '../units.js';
import { noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const growthExceedsSupply = segmentRule({
  id: 'growth-exceeds-supply',
  severity: 'warning',
  basis: 'common practice',
  missing: noCapacity,
  *check(balance, { policy, words }) {
    const { segment, judged, growth, targetUa } = balance;
    const { load, ratedUa, plannedUa } = judged;
    if (plannedUa === 0 || targetUa === null) return;
    const wholeUa = load.totalUa + plannedUa;
    if (wholeUa <= targetUa) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.loadWithPlanned,
        unit: 'mA',
        value: toMa(wholeUa),
        limit: toMa(targetUa),
        holds: 'at most',
        setBy: 'targetLoad',
        whole: toMa(ratedUa),
      },
      restsOn: restsOn(balance),
      facts: {
        segment: segmentLabel(segment),
        loadMa: toMa(load.totalUa),
        plannedDevices: growth.devices,
        plannedMa: toMa(plannedUa),
        targetMa: toMa(targetUa),
        ratedMa: toMa(ratedUa),
        excessMa: toMa(wholeUa - targetUa),
        suggestedRatingMa: toMaOrNull(suggestedRating(wholeUa, policy)),
      },
    };
  },
});
