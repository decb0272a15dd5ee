import { FAN_IN_WEIGHT } from '../electrical/standard.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa, toMaOrNull } from '../units.js';
import { noBoundaries, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const fanInExceeded = segmentRule({
  id: 'fan-in-exceeded',
  severity: 'note',
  basis: 'standard',
  missing: (balance, context) =>
    (balance.fanIn?.weight ?? 0) >= FAN_IN_WEIGHT.below ? noBoundaries(balance, context) : noCapacity(balance, context),
  *check(balance, { words }) {
    const { segment, fanIn, capacity } = balance;
    if (fanIn === null) return;
    const currentExceeded = capacity.usableUa !== null && fanIn.classSumUa >= capacity.usableUa;
    const weightExceeded = fanIn.weight >= FAN_IN_WEIGHT.below;
    if (!currentExceeded && !weightExceeded) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: currentExceeded
        ? {
            quantity: words.facts.quantities.classSum,
            unit: 'mA',
            value: toMa(fanIn.classSumUa),
            limit: toMaOrNull(capacity.usableUa),
            holds: 'below',
            whole: toMaOrNull(capacity.usableUa),
          }
        : {
            quantity: words.facts.quantities.weightSum,
            unit: 'weights',
            value: fanIn.weight,
            limit: FAN_IN_WEIGHT.below,
            holds: 'below',
          },
      restsOn: restsOn(balance),
      facts: {
        segment: segmentLabel(segment),
        classSumMa: toMa(fanIn.classSumUa),
        nominalMa: toMaOrNull(capacity.usableUa),
        weight: fanIn.weight,
        currentExceeded,
        weightExceeded,
      },
    };
  },
});
