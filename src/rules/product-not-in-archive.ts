import { toMa } from '../units.js';
import {
  assumedBecause,
  assumedMeasure,
  byProduct,
  placesFacts,
  placesText,
  productSubject,
  segmentsOfGroup,
} from './by-product.js';
import { noPower } from './judged.js';
import { installationRule } from './rule.js';
import { count, milliamps } from './words.js';

export const productNotInArchive = installationRule({
  id: 'product-not-in-archive',
  title: 'The archive does not hold the product of a device',
  severity: 'warning',
  why: 'Without its product data nothing is known of the device: neither what it draws nor whether it is a supply.',
  remedy: 'Export the project again with its product data, or look the device up.',
  limit:
    'every device on twisted pair has its product in the archive; 10 mA (unless the policy says otherwise) are assumed where it has not',
  basis: 'common practice',
  source: 'common practice, no source: the rule of thumb',
  missing: noPower,
  *check(context) {
    for (const group of byProduct(context, assumedBecause('product not in the archive'))) {
      yield {
        subject: productSubject(group),
        segments: segmentsOfGroup(group),
        measure: assumedMeasure(group),
        restsOn: 'assumed',
        facts: { ...placesFacts(group), assumedMa: toMa(group.first.current.ua) },
      };
    }
  },
  message: (f) =>
    `${f.productId === '' ? 'No product is named' : `The product ${f.productId} is not in the archive`} for ${count(f.devices, 'device')} (${placesText(f.places)}); ${milliamps(f.assumedMa)} are assumed${f.devices === 1 ? '' : ' for each'}.`,
  advice: () =>
    'Export the project again together with its product data. If it still is missing, identify the devices on site and take their current from the data sheet.',
});
