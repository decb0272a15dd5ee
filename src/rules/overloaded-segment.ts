import { segmentLabel } from '../plant/plant.js';
import { percent, toMa } from '../units.js';
import { isBesideTheBus, loadFacts, loadMeasure, noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { assumedRemark, chargedText, milliamps, segmentSubject, supplyAdvice } from './words.js';

export const overloadedSegment = segmentRule({
  id: 'overloaded-segment',
  title: 'The load is above the rating of the supplies',
  severity: 'error',
  why: 'A supply beyond its rating lets the bus voltage fall; devices reset, lose telegrams or stay silent, first under load and far from the supply.',
  remedy: 'Fit a larger supply, split the segment, or move devices to a segment with room.',
  limit: 'load ≤ sum of the ratings of the supplies',
  basis: 'standard',
  source: 'volume 4/1 §2.7, volume 9/2 §2.11; ratings by the data sheet',
  missing: (balance) => (balance.verdict === 'insufficient' ? null : noCapacity(balance)),
  *check(balance) {
    const { segment, verdict, judged } = balance;
    const { load, ratedUa } = judged;
    if (verdict !== 'insufficient' || isBesideTheBus(balance)) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        ...loadMeasure(load, balance.breakEven.toInsufficientUa),
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
  message: (f) =>
    `${chargedText(f)}; ${suppliesText(f)}: ${milliamps(f.excessMa)} too much (${percent(f.share)}).${assumedRemark(f.assumedMa, f.assumedItems)}`,
  advice: (f) =>
    f.boundariesKnown
      ? `Replace or split: ${supplyAdvice(f.suggestedRatingMa, f.plannedMa)}. Or move devices to a segment with room: ${milliamps(f.excessMa)} of load to come down to the rating${f.overTargetMa === null ? '' : `, ${milliamps(f.overTargetMa)} to the target`}.`
      : 'Find out which devices hang on which side of the repeaters, then size each side by itself.',
});

function suppliesText(f: { supplies: number; ratedMa: number; boundariesKnown: boolean }): string {
  if (f.supplies === 1) return `its supply is rated ${milliamps(f.ratedMa)}`;
  return `its supplies are rated ${milliamps(f.ratedMa)} ${f.boundariesKnown ? 'together' : 'even all together'}`;
}
