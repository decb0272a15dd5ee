import { FAN_IN_WEIGHT } from '../electrical/standard.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa, toMaOrNull } from '../units.js';
import { noBoundaries, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { milliamps, segmentSubject } from './words.js';

export const fanInExceeded = segmentRule({
  id: 'fan-in-exceeded',
  title: 'The standard’s fan-in count is exceeded',
  severity: 'note',
  why: 'The standard counts in classes, each current rounded up, and asks that their sum stay below the nominal current; and it weighs each device. Both are stricter than the plain sum.',
  remedy: 'Lower the load or the number of devices, or accept it: the plain sum is what the supply feels.',
  limit: 'sum of current classes < nominal current; sum of weights < 257 (4 per device of the classic type)',
  basis: 'standard',
  source: 'volume 4/1 §2.7',
  missing: (balance) =>
    (balance.fanIn?.weight ?? 0) >= FAN_IN_WEIGHT.below ? noBoundaries(balance) : noCapacity(balance),
  *check(balance) {
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
            quantity: 'sum of the current classes',
            unit: 'mA',
            value: toMa(fanIn.classSumUa),
            limit: toMaOrNull(capacity.usableUa),
            holds: 'below',
            whole: toMaOrNull(capacity.usableUa),
          }
        : {
            quantity: 'sum of the weights',
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
  message: (f) => {
    const reasons = [
      f.currentExceeded
        ? `the current classes add up to ${milliamps(f.classSumMa)}, not below the nominal ${milliamps(f.nominalMa ?? 0)}`
        : '',
      f.weightExceeded ? `the weights add up to ${f.weight}, not below ${FAN_IN_WEIGHT.below}` : '',
    ];
    return `On line ${f.segment} ${reasons.filter(Boolean).join(', and ')}.`;
  },
  advice: () => 'Where the standard’s count has to be met, split the segment or fit a larger supply.',
});
