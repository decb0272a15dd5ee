import { beyond, type Comparison, comparisonsOf, isWorse } from '../electrical/deviation.js';
import type { OnSite } from '../electrical/on-site.js';
import { deviceLabel, type Segment, segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { toMa } from '../units.js';
import type { Words } from '../words/words.js';
import { noBoundaries, restsOn } from './judged.js';
import { type RuleContext, segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const measuredDeviates = segmentRule({
  id: 'measured-deviates',
  severity: 'warning',
  basis: 'common practice',
  missing: (balance, context) => noBoundaries(balance, context) ?? missingOf(balance.onSite, context),
  *check(balance, { policy, words }) {
    const { segment, onSite } = balance;
    const outside = comparedOn(onSite, policy).filter((one) => beyond(one) > 0);
    const [worst] = [...outside].sort((a, b) => Number(isWorse(b)) - Number(isWorse(a)) || beyond(b) - beyond(a));
    if (worst === undefined || onSite === null) return;
    const isHigh = worst.measured > worst.high;
    const { unit, value } = shown(worst);
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.measured(placeOf(worst, segment, onSite, words)),
        unit,
        value: value(worst.measured),
        limit: value(isHigh ? worst.high : worst.low),
        holds: isHigh ? 'at most' : 'at least',
        setBy: worst.quantity === 'current' ? 'measuredShare' : 'measuredV',
      },
      restsOn: restsOn(balance),
      severity: outside.some((one) => isBelow(one, policy.hardDeviceV))
        ? 'error'
        : outside.some(isWorse)
          ? 'warning'
          : 'note',
      facts: {
        segment: segmentLabel(segment),
        connectedBy: onSite.expected?.connectedBy ?? ('nobody' as const),
        deviations: outside.map((one) => factsOf(one, segment, onSite, words)),
      },
    };
  },
});

/** Where nobody knows what is connected nothing can be computed; what a device needs it needs all the same. */
function comparedOn(onSite: OnSite | null, policy: Policy): Comparison[] {
  const { expected = null, entry } = onSite ?? {};
  if (expected === null || !entry?.measured) return [];
  const all = comparisonsOf(expected, entry.measured);
  if (expected.connectedBy !== 'nobody') return all;
  const needed = { low: policy.leastDeviceV, high: Number.POSITIVE_INFINITY };
  return all.flatMap((one) => (isBelow(one, policy.leastDeviceV) ? [{ ...one, ...needed }] : []));
}

function isBelow({ quantity, measured }: Comparison, v: number): boolean {
  return quantity === 'voltage' && measured < v;
}

function missingOf(onSite: OnSite | null, { policy, site, words: { missing } }: RuleContext): string | null {
  if (site === null) return missing.measuredWithoutSheet;
  const measured = onSite?.entry.measured ?? null;
  if (onSite === null || measured === null || measured.currents.length + measured.voltages.length === 0) {
    return missing.measured;
  }
  if (onSite.expected === null) return missing.toMeasure;
  const compared = comparedOn(onSite, policy);
  if (onSite.expected.connectedBy === 'nobody' && compared.length === 0) {
    return missing.connected;
  }
  return compared.length === 0 ? missing.comparable : null;
}

function shown({ quantity }: Comparison) {
  return quantity === 'current'
    ? { unit: 'mA', value: toMa }
    : { unit: 'V', value: (v: number) => Math.round(v * 1000) / 1000 };
}

function factsOf(one: Comparison, segment: Segment, onSite: OnSite, words: Words) {
  const { unit, value } = shown(one);
  return {
    what: placeOf(one, segment, onSite, words),
    unit,
    measured: value(one.measured),
    low: value(one.low),
    high: Number.isFinite(one.high) ? value(one.high) : null,
  };
}

function placeOf(
  { quantity, supplies, point }: Comparison,
  segment: Segment,
  { entry }: OnSite,
  { facts }: Words,
): string {
  if (quantity === 'current') {
    const labels = segment.supplies
      .filter(({ device }) => supplies.includes(device.id))
      .map(({ device }) => deviceLabel(device));
    return facts.currentOf(labels.length === supplies.length ? labels : [...supplies]);
  }
  return facts.voltageAt((point === null ? null : entry.layout?.points[point]) ?? facts.farEnd);
}
