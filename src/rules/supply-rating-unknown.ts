import { type Device, deviceLabel, segmentLabel } from '../plant/plant.js';
import { parseMilliamps, toMa, toMaOrNull } from '../units.js';
import { noPower } from './judged.js';
import { segmentRule } from './rule.js';
import { deviceSubject, productLabel } from './words.js';

export const supplyRatingUnknown = segmentRule({
  id: 'supply-rating-unknown',
  severity: 'error',
  basis: 'standard',
  missing: noPower,
  *check({ segment, load, verdict }, { policy, words }) {
    for (const { device, ratingUa } of segment.supplies) {
      if (ratingUa !== null) continue;
      yield {
        subject: deviceSubject(device),
        segments: [segment],
        measure: {
          quantity: words.facts.quantities.declaredRating,
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
});

/** What stands where the rating should, where it is a number. */
function declaredMa({ product }: Device): number | null {
  return toMaOrNull(parseMilliamps(product?.declared ?? '') ?? null);
}
