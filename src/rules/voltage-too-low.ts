import type { OnSite } from '../electrical/on-site.js';
import { voltageOf } from '../electrical/voltage/lowest.js';
import type { CaseFigures, Voltages } from '../electrical/voltage/voltage.js';
import { segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { toMv } from '../units.js';
import { noBoundaries, restsOn } from './judged.js';
import { noCableSaid } from './on-site.js';
import { segmentRule } from './rule.js';
import { segmentSubject, volts } from './words.js';

export const voltageTooLow = segmentRule({
  id: 'voltage-too-low',
  title: 'The voltage at the far end of the cable is too low',
  severity: 'warning',
  why: 'Cable takes its share of the voltage. A supply that is large enough can still leave the farthest devices below what they need; they reset or stay silent, first when many act at once.',
  remedy: 'Use a second pair in parallel, a thicker cable, a supply nearer to the load, or split the segment.',
  limit:
    'every device has at least 21 V as installed at the least voltage of the supply; below 20 V there, or below 21 V even at the typical voltage, it is an error',
  basis: 'standard',
  source: 'volume 3/2/2 §1.2.2: 21 V as installed, devices must still work at 20 V',
  missing: (balance, context) => noBoundaries(balance) ?? noCableSaid(balance, context) ?? missingOf(balance.onSite),
  *check(balance, { policy }) {
    const { segment, onSite } = balance;
    const isToday = onSite?.voltages?.verdict === 'too low';
    const voltages = isToday ? onSite.voltages : onSite?.plannedVoltages;
    if (voltages?.verdict !== 'too low') return;
    const found = { segment: segmentLabel(segment), withPlanned: !isToday, ...factsOf(voltages, policy) };
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: `lowest voltage at the ${found.atVoltage} voltage of the supply`,
        unit: 'V',
        value: found.lowestV,
        limit: policy.leastDeviceV,
        holds: 'at least',
        setBy: 'leastDeviceV',
      },
      restsOn: restsOn(balance),
      severity: isToday && isError(voltages, policy) ? 'error' : 'warning',
      facts: found,
    };
  },
  message: (f) => {
    const supply = `with ${volts(f.supplyV)} at the supply (the ${f.atVoltage} case)`;
    const when = f.withPlanned ? ', with what is planned,' : '';
    if (f.lowestV === null) {
      return `On line ${f.segment}${when} there is no working point ${supply}: its devices want more power than the cable can carry to them.`;
    }
    const best = f.isExact ? 'is' : 'is at best';
    return `On line ${f.segment}${when} the lowest voltage ${best} ${volts(f.lowestV)}${f.point === null ? '' : ` at ${f.point}`}, ${supply}; ${volts(f.limitV)} are needed.`;
  },
  advice: (f) =>
    `Lower the resistance of the way to ${f.point ?? 'the far end'} (a second pair in parallel halves it; the limits of length stay), bring a supply nearer, or split the segment. The data sheets of the devices say what voltage they need.`,
});

/** What keeps the voltage from being judged; null if nothing does. */
function missingOf(onSite: OnSite | null): string | null {
  if (onSite === null) return null;
  const { voltages, cable } = onSite;
  if (voltages === null) return 'the length of the cable, or what feeds it: the site sheet does not say';
  if (voltages.verdict === 'overloaded')
    return 'a supply that carries the load: no voltage can be promised beyond its limit';
  if (voltages.verdict !== 'undecidable') return null;
  return `${between(voltages)}; to decide it: ${cable.wanted.join('; ') || 'where devices and supplies sit'}`;
}

function between({ cases: { least } }: Voltages): string {
  const lowV = least.unfavourable && voltageOf(least.unfavourable);
  const highV = voltageOf(least.favourable);
  const low = lowV === null ? 'nothing that can be bounded' : volts(toMv(lowV));
  return `at the least voltage of the supply the lowest voltage lies between ${low} and ${highV === null ? 'none at all' : volts(toMv(highV))}`;
}

function factsOf({ cases, basis, profile }: Voltages, policy: Policy) {
  const atVoltage = isBelow(cases.typical, policy.leastDeviceV) ? 'typical' : 'least';
  const { favourable, supplyV } = cases[atVoltage];
  const point =
    'v' in favourable && favourable.point !== null ? (profile.points[favourable.point]?.name ?? null) : null;
  return {
    atVoltage,
    supplyV: toMv(supplyV),
    lowestV: 'v' in favourable ? toMv(favourable.v) : null,
    limitV: policy.leastDeviceV,
    point: basis === 'length only' ? null : point,
    isExact: basis === 'all placed',
  } as const;
}

/** What cannot be the case whatever the arrangement is an error; what happens with a weak supply only, a warning. */
function isError({ cases }: Voltages, { leastDeviceV, hardDeviceV }: Policy): boolean {
  return isBelow(cases.typical, leastDeviceV) || isBelow(cases.least, hardDeviceV);
}

function isBelow({ favourable }: CaseFigures, limitV: number): boolean {
  return !('v' in favourable) || toMv(favourable.v) < limitV;
}
