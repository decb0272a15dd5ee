import type { Load } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { fromMa, parseMilliamps, toMa, toMaOrNull } from '../units.js';
import {
  byProduct,
  placesFacts,
  placesText,
  productSubject,
  segmentsOfGroup,
  type TurningPoint,
  turningPoint,
} from './by-product.js';
import { noPower } from './judged.js';
import { installationRule, type Measure } from './rule.js';
import { count, list, milliamps } from './words.js';

type Doubt = 'zero' | 'negative' | 'unreadable' | 'too high';

export const currentImplausible = installationRule({
  id: 'current-implausible',
  title: 'A product declares a current that is hard to believe',
  severity: 'warning',
  why: 'Some products declare 0 because another source powers them, some because nobody filled it in; a negative or very high value is a slip. A verdict may hang on it.',
  remedy: 'Check the declared current against the data sheet of the product.',
  limit: 'a participant with an address draws more than 0 and at most 100 mA (unless the policy says otherwise)',
  basis: 'common practice',
  source: 'common practice, no source: real devices draw 2.5 to 60 mA; the greatest plausible current is the policy’s',
  missing: noPower,
  *check(context) {
    const doubtOf = (load: Load) => doubt(load, context.policy);
    for (const group of byProduct(context, (load) => doubtOf(load) !== null)) {
      const { first } = group;
      yield {
        subject: productSubject(group),
        segments: segmentsOfGroup(group),
        measure: doubtMeasure(first, doubtOf(first) as Doubt, context.policy),
        restsOn: first.current.origin,
        facts: {
          ...placesFacts(group),
          doubt: doubtOf(first) as Doubt,
          declared: first.device.product?.declared ?? '',
          chargedMa: toMa(first.current.ua),
          turns: group.places.map(turningPoint),
        },
      };
    }
  },
  message: (f) =>
    `${f.product} declares ${DOUBTS[f.doubt]} (“${f.declared}” mA); ${count(f.devices, 'device')} (${placesText(f.places)}), charged with ${milliamps(f.chargedMa)}${f.devices === 1 ? '' : ' each'}.`,
  advice: (f) => `Check it in the data sheet.${turnsText(f.turns, f.devices)}`,
});

const DOUBTS: { readonly [doubt in Doubt]: string } = {
  zero: 'that it draws nothing from the bus',
  negative: 'a negative current',
  unreadable: 'a current that is no usable number',
  'too high': 'an unusually high current',
};

/** Why a declared current is hard to believe; null where it is not. */
export function doubt(
  { device, current }: Pick<Load, 'device' | 'current'>,
  { implausibleAboveMa }: Policy,
): Doubt | null {
  if (current.because === 'negative' || current.because === 'unreadable') return current.because;
  if (current.origin !== 'declared') return null;
  if (current.ua === 0) return device.address === null ? null : 'zero';
  return current.ua > fromMa(implausibleAboveMa) ? 'too high' : null;
}

/** What is declared, and the bound that it is beyond. */
function doubtMeasure({ device, current }: Load, doubt: Doubt, { implausibleAboveMa }: Policy): Measure {
  const declared = parseMilliamps(device.product?.declared ?? '');
  const value = doubt === 'too high' ? toMa(current.ua) : toMaOrNull(declared ?? null);
  const what = { quantity: 'declared current', unit: 'mA', value } as const;
  return doubt === 'too high'
    ? { ...what, limit: implausibleAboveMa, holds: 'at most', setBy: 'implausibleAboveMa' }
    : { ...what, limit: 0.001, holds: 'at least' };
}

function turnsText(turns: readonly TurningPoint[], devices: number): string {
  const each = devices === 1 ? '' : ' each';
  const known = turns.filter(({ toTightMa, toInsufficientMa }) => toTightMa !== null || toInsufficientMa !== null);
  if (known.length === 0) return '';
  const parts = known.map(({ segment, toTightMa, toInsufficientMa }) => {
    const bounds = [
      toTightMa === null ? '' : `the target up to ${milliamps(toTightMa)}${each}`,
      toInsufficientMa === null ? '' : `the rating up to ${milliamps(toInsufficientMa)}${each}`,
    ];
    return `line ${segment} stays within ${bounds.filter(Boolean).join(', within ')}`;
  });
  return ` What it would take to turn the verdict: ${list(parts)}.`;
}
