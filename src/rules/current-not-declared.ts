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

const isNotDeclared = assumedBecause('not declared', 'upper side of a combined supply and coupler');

export const currentNotDeclared = installationRule({
  id: 'current-not-declared',
  title: 'A product does not declare its current',
  severity: 'warning',
  why: 'The project file is silent on what the device draws, so the balance rests on a rule of thumb. Displays and gateways draw several times that.',
  remedy: 'Look the current up in the data sheet of the product.',
  limit:
    'every participant on twisted pair declares its current; 10 mA (unless the policy says otherwise) are assumed where it does not',
  basis: 'common practice',
  source: 'common practice, no source: the rule of thumb',
  missing: noPower,
  *check(context) {
    for (const group of byProduct(context, isNotDeclared)) {
      const { first } = group;
      yield {
        subject: productSubject(group),
        segments: segmentsOfGroup(group),
        measure: assumedMeasure(group),
        restsOn: 'assumed',
        facts: {
          ...placesFacts(group),
          assumedMa: toMa(first.current.ua),
          isUpperSide: first.device.role === 'supply and coupler',
        },
      };
    }
  },
  message: (f) =>
    f.isUpperSide
      ? `${f.product}, a supply and coupler in one, declares its rating but not what it draws from the line above; ${milliamps(f.assumedMa)} are assumed for each (${placesText(f.places)}).`
      : `${f.product} does not declare its current; ${milliamps(f.assumedMa)} are assumed for ${count(f.devices, 'device')}${f.devices === 1 ? '' : ' each'} (${placesText(f.places)}).`,
  advice: (f) => `Take the bus current of ${f.product} from its data sheet.`,
});
