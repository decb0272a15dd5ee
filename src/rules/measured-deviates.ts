import type { ConnectedBy } from '../electrical/connected.js';
import { beyond, type Comparison, comparisonsOf, isWorse } from '../electrical/deviation.js';
import type { OnSite } from '../electrical/on-site.js';
import { deviceLabel, type Segment, segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { toMa } from '../units.js';
import { noBoundaries, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { list, milliamps, segmentSubject, volts } from './words.js';

export const measuredDeviates = segmentRule({
  id: 'measured-deviates',
  title: 'What was measured is not what the connected devices come to',
  severity: 'warning',
  why: 'A current or voltage that the plan does not explain has a cause on site: a device that the project does not hold, another cable, a wrong feed, a fault that is only beginning.',
  remedy: 'Look for what differs between plan and site, measure again, and correct plan or installation.',
  limit:
    'a measured current within 20 %, a voltage within 0.5 V of what is computed (unless the policy says otherwise)',
  basis: 'common practice',
  source: 'common practice, no source: data sheets state the most that a device draws; the tolerances are the policy’s',
  missing: (balance, { policy }) => noBoundaries(balance) ?? missingOf(balance.onSite, policy),
  *check(balance, { policy }) {
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
        quantity: `measured ${placeOf(worst, segment, onSite)}`,
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
        deviations: outside.map((one) => factsOf(one, segment, onSite)),
      },
    };
  },
  message: (f) => `On line ${f.segment} the ${list(f.deviations.map(deviationText))}; ${BY[f.connectedBy]}.`,
  advice: (f) =>
    `Check first that the right devices are taken as connected, then hold the causes that the fault view ranks against each other (linebudget diagnose) on line ${f.segment}.`,
});

const BY: { readonly [by in ConnectedBy]: string } = {
  loaded: 'computed from the devices that the archive marks as loaded',
  'site sheet': 'computed from the devices that the site sheet says are connected',
  nobody: 'that is what every device needs as installed',
};

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

function missingOf(onSite: OnSite | null, policy: Policy): string | null {
  const measured = onSite?.entry.measured ?? null;
  if (onSite === null || measured === null || measured.currents.length + measured.voltages.length === 0) {
    return 'measured values: the site sheet has none';
  }
  if (onSite.expected === null) return 'a supply, or devices to feed';
  const compared = comparedOn(onSite, policy);
  if (onSite.expected.connectedBy === 'nobody' && compared.length === 0) {
    return 'which devices are connected: the archive marks none as loaded, and the site sheet does not say';
  }
  return compared.length === 0
    ? 'what the measured values can be held against: the runs of the cable and its places, or the current of every supply'
    : null;
}

function shown({ quantity }: Comparison) {
  return quantity === 'current'
    ? { unit: 'mA', value: toMa, text: milliamps }
    : { unit: 'V', value: (v: number) => Math.round(v * 1000) / 1000, text: volts };
}

function factsOf(one: Comparison, segment: Segment, onSite: OnSite) {
  const { unit, value } = shown(one);
  return {
    what: placeOf(one, segment, onSite),
    unit,
    measured: value(one.measured),
    low: value(one.low),
    high: Number.isFinite(one.high) ? value(one.high) : null,
  };
}

function deviationText(f: ReturnType<typeof factsOf>): string {
  const range = f.high === null ? `at least ${f.low}` : `${f.low} to ${f.high}`;
  return `${f.what} was measured as ${f.measured} ${f.unit} where ${range} ${f.unit} are to be expected`;
}

function placeOf({ quantity, supplies, point }: Comparison, segment: Segment, { entry }: OnSite): string {
  if (quantity === 'current') {
    const labels = segment.supplies
      .filter(({ device }) => supplies.includes(device.id))
      .map(({ device }) => deviceLabel(device));
    return `current of ${list(labels.length === supplies.length ? labels : [...supplies])}`;
  }
  return `voltage at ${point === null ? 'the far end' : (entry.layout?.points[point] ?? 'the far end')}`;
}
