import { toMa } from '../units.js';
import {
  assumedBecause,
  assumedMeasure,
  byProduct,
  placesFacts,
  productSubject,
  segmentsOfGroup,
} from './by-product.js';
import { noPower } from './judged.js';
import { installationRule } from './rule.js';

export const productNotInArchive = installationRule({
  id: 'product-not-in-archive',
  severity: 'warning',
  basis: 'common practice',
  missing: noPower,
  *check(context) {
    for (const group of byProduct(context, assumedBecause('product not in the archive'))) {
      yield {
        subject: productSubject(group, context.words),
        segments: segmentsOfGroup(group),
        measure: assumedMeasure(group, context.words),
        restsOn: 'assumed',
        facts: { ...placesFacts(group, context.words), assumedMa: toMa(group.first.current.ua) },
      };
    }
  },
});
