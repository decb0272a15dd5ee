import { suggestedRating } from '../electrical/target.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa, toMaOrNull } from '../units.js';
import { noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { count, milliamps, segmentSubject, supplyAdvice } from './words.js';

export const growthExceedsSupply = segmentRule({
  id: 'growth-exceeds-supply',
  title: 'What is planned for the segment does not fit its supply',
  severity: 'warning',
  why: 'A supply that is just right today is changed again when the planned devices come, with the mains switched off once more.',
  remedy: 'Order the supply that carries the planned devices as well, or plan them on a segment with room.',
  limit: 'load + planned devices and reserve ≤ target share × sum of the ratings',
  basis: 'common practice',
  source: 'common practice, no source; what is planned and the target are the policy’s',
  missing: noCapacity,
  *check(balance, { policy }) {
    const { segment, judged, growth, targetUa } = balance;
    const { load, ratedUa, plannedUa } = judged;
    if (plannedUa === 0 || targetUa === null) return;
    const wholeUa = load.totalUa + plannedUa;
    if (wholeUa <= targetUa) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'load with what is planned',
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
  message: (f) =>
    `Line ${f.segment} carries ${milliamps(f.loadMa)} today; with ${milliamps(f.plannedMa)} planned${f.plannedDevices > 0 ? ` (${count(f.plannedDevices, 'device')})` : ''} it is ${milliamps(f.excessMa)} above the target of ${milliamps(f.targetMa)}.`,
  advice: (f) => `Order for what is planned: ${supplyAdvice(f.suggestedRatingMa)}.`,
});
