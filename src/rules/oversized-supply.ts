import { greatestUsual, isOversized } from '../electrical/target.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { noCapacity, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { milliamps, segmentSubject } from './words.js';

export const oversizedSupply = segmentRule({
  id: 'oversized-supply',
  title: 'The supply is two stock sizes above what would do',
  severity: 'note',
  why: 'It costs money, rail width and standby loss. It may be on purpose, for devices that are still to come.',
  remedy: 'Order the smaller one, or keep it where the segment will grow.',
  limit: 'a single supply is less than two stock sizes above the smallest that carries the load within the target',
  basis: 'common practice',
  source: 'common practice, no source; the stock sizes are the policy’s',
  missing: noCapacity,
  *check(balance, { policy }) {
    const { segment, capacity, load, suggestedRatingUa } = balance;
    if (segment.supplies.length !== 1 || capacity.usableUa === null || suggestedRatingUa === null) return;
    if (!isOversized(capacity.usableUa, suggestedRatingUa, policy)) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'rating',
        unit: 'mA',
        value: toMa(capacity.usableUa),
        limit: toMa(greatestUsual(suggestedRatingUa, policy)),
        holds: 'at most',
        setBy: 'stock',
      },
      restsOn: restsOn(balance),
      facts: {
        segment: segmentLabel(segment),
        ratedMa: toMa(capacity.usableUa),
        loadMa: toMa(load.totalUa),
        suggestedRatingMa: toMa(suggestedRatingUa),
      },
    };
  },
  message: (f) =>
    `The supply of line ${f.segment} is rated ${milliamps(f.ratedMa)} for a load of ${milliamps(f.loadMa)}; ${milliamps(f.suggestedRatingMa)} would carry it within the target.`,
  advice: (f) => `If the segment will not grow, order ${milliamps(f.suggestedRatingMa)} instead.`,
});
