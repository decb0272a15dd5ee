import { type Device, deviceLabel, segmentLabel } from '../plant/plant.js';
import { parseMilliamps, toMa, toMaOrNull } from '../units.js';
import { noPower } from './judged.js';
import { segmentRule } from './rule.js';
import { deviceSubject, milliamps, productLabel } from './words.js';

export const supplyRatingUnknown = segmentRule({
  id: 'supply-rating-unknown',
  title: 'The product of a supply declares no rating',
  severity: 'error',
  why: 'What a supply can deliver is half of the balance; without it no one can say that the segment is fed.',
  remedy: 'Take the rating from the data sheet of the supply.',
  limit: 'every supply declares a rating of 25 mA or more',
  basis: 'standard',
  source: 'volume 9/2 §6: 25 mA is the smallest supply; a smaller value counts as not declared',
  missing: noPower,
  *check({ segment, load, verdict }, { policy }) {
    for (const { device, ratingUa } of segment.supplies) {
      if (ratingUa !== null) continue;
      yield {
        subject: deviceSubject(device),
        segments: [segment],
        measure: {
          quantity: 'declared rating',
          unit: 'mA',
          value: declaredMa(device),
          limit: policy.leastRatingMa,
          holds: 'at least',
          setBy: 'leastRatingMa',
        },
        restsOn: 'declared',
        facts: {
          segment: segmentLabel(segment),
          supply: deviceLabel(device),
          product: device.product === null ? (device.productRef ?? '') : productLabel(device.product),
          declared: device.product?.declared ?? null,
          loadMa: toMa(load.totalUa),
          verdict,
        },
      };
    }
  },
  message: (f) =>
    `The supply ${f.supply} on line ${f.segment} (${f.product}) declares ${f.declared === null ? 'no rating' : `"${f.declared}", which is no rating`}; the segment draws ${milliamps(f.loadMa)}${f.verdict === 'sufficient' ? ', which the other supplies carry' : ''}.`,
  advice: (f) => `Take the rating from the data sheet of ${f.product} and hold it against ${milliamps(f.loadMa)}.`,
});

/** What stands where the rating should, where it is a number. */
function declaredMa({ product }: Device): number | null {
  return toMaOrNull(parseMilliamps(product?.declared ?? '') ?? null);
}
