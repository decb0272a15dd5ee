import type { Load } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { fromMa, parseMilliamps, toMa, toMaOrNull } from '../units.js';
import { byProduct, placesFacts, productSubject, segmentsOfGroup, turningPoint } from './by-product.js';
import { noPower } from './judged.js';
import { installationRule, type Measure, type RuleContext } from './rule.js';

type Doubt = 'zero' | 'negative' | 'unreadable' | 'too high';

export const currentImplausible = installationRule({
  id: 'current-implausible',
  severity: 'warning',
  basis: 'common practice',
  missing: noPower,
  *check(context) {
    const doubtOf = (load: Load) => doubt(load, context.policy);
    for (const group of byProduct(context, (load) => doubtOf(load) !== null)) {
      const { first } = group;
      yield {
        subject: productSubject(group, context.words),
        segments: segmentsOfGroup(group),
        measure: doubtMeasure(first, doubtOf(first) as Doubt, context),
        restsOn: first.current.origin,
        facts: {
          ...placesFacts(group, context.words),
          doubt: doubtOf(first) as Doubt,
          declared: first.device.product?.declared ?? '',
          chargedMa: toMa(first.current.ua),
          turns: group.places.map(turningPoint),
        },
      };
    }
  },
});

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
function doubtMeasure({ device, current }: Load, doubt: Doubt, { policy, words }: RuleContext): Measure {
  const { implausibleAboveMa } = policy;
  const declared = parseMilliamps(device.product?.declared ?? '');
  const value = doubt === 'too high' ? toMa(current.ua) : toMaOrNull(declared ?? null);
  const what = { quantity: words.facts.quantities.declaredCurrent, unit: 'mA', value } as const;
  return doubt === 'too high'
    ? { ...what, limit: implausibleAboveMa, holds: 'at most', setBy: 'implausibleAboveMa' }
    : { ...what, limit: 0.001, holds: 'at least' };
}
