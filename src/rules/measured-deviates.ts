import { beyond, type Comparison, comparisonsOf, isWorse } from '../electrical/deviation.js';
import type { OnSite } from '../electrical/on-site.js';
import { deviceLabel, type Segment, segmentLabel } from '../plant/plant.js';
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
  missing: (balance) => noBoundaries(balance) ?? missingOf(balance.onSite),
  *check(balance) {
    const { segment, onSite } = balance;
    const outside = comparedOn(onSite).filter((one) => beyond(one) > 0);
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
      severity: outside.some(isWorse) ? 'warning' : 'note',
      facts: {
        segment: segmentLabel(segment),
        connectedBy: onSite.expected?.connectedBy ?? 'nobody',
        deviations: outside.map((one) => factsOf(one, segment, onSite)),
      },
    };
  },
  message: (f) =>
    `On line ${f.segment} the ${list(f.deviations.map(deviationText))}; computed from the devices that ${f.connectedBy === 'loaded' ? 'the archive marks as loaded' : 'the site sheet says are connected'}.`,
  advice: (f) =>
    `Check first that the right devices are taken as connected, then hold the causes that the fault view ranks against each other (linebudget diagnose) on line ${f.segment}.`,
});

function comparedOn(onSite: OnSite | null): Comparison[] {
  const { expected = null, entry } = onSite ?? {};
  return expected === null || !entry?.measured ? [] : comparisonsOf(expected, entry.measured);
}

function missingOf(onSite: OnSite | null): string | null {
  const measured = onSite?.entry.measured ?? null;
  if (onSite === null || measured === null || measured.currents.length + measured.voltages.length === 0) {
    return 'measured values: the site sheet has none';
  }
  if (onSite.expected === null) return 'a supply, or devices to feed';
  if (onSite.expected.connectedBy === 'nobody') {
    return 'which devices are connected: the archive marks none as loaded, and the site sheet does not say';
  }
  return comparedOn(onSite).length === 0
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
    high: value(one.high),
  };
}

function deviationText(f: ReturnType<typeof factsOf>): string {
  return `${f.what} was measured as ${f.measured} ${f.unit} where ${f.low} to ${f.high} ${f.unit} are to be expected`;
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
