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

const isNotDeclared = assumedBecause('not declared', 'upper side of a combined supply and coupler');

export const currentNotDeclared = installationRule({
  id: 'current-not-declared',
  severity: 'warning',
  basis: 'common practice',
  missing: noPower,
  *check(context) {
    for (const group of byProduct(context, isNotDeclared)) {
      const { first } = group;
      yield {
        subject: productSubject(group, context.words),
        segments: segmentsOfGroup(group),
        measure: assumedMeasure(group, context.words),
        restsOn: 'assumed',
        facts: {
          ...placesFacts(group, context.words),
          assumedMa: toMa(first.current.ua),
          isUpperSide: first.device.role === 'supply and coupler',
        },
      };
    }
  },
});
