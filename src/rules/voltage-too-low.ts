import type { OnSite } from '../electrical/on-site.js';
import { voltageOf } from '../electrical/voltage/lowest.js';
import type { CaseFigures, Voltages } from '../electrical/voltage/voltage.js';
import { segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { toMv } from '../units.js';
import type { Words } from '../words/words.js';
import { noBoundaries, restsOn } from './judged.js';
import { noCableSaid } from './on-site.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const voltageTooLow = segmentRule({
  id: 'voltage-too-low',
  severity: 'warning',
  basis: 'standard',
  missing: (balance, context) =>
    noBoundaries(balance, context) ?? noCableSaid(balance, context) ?? missingOf(balance.onSite, context.words),
  *check(balance, { policy, words }) {
    const { segment, onSite } = balance;
    const isToday = onSite?.voltages?.verdict === 'too low';
    const voltages = isToday ? onSite.voltages : onSite?.plannedVoltages;
    if (voltages?.verdict !== 'too low') return;
    const found = { segment: segmentLabel(segment), withPlanned: !isToday, ...factsOf(voltages, policy) };
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.lowestVoltage(found),
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
});

/** What keeps the voltage from being judged; null if nothing does. */
function missingOf(onSite: OnSite | null, words: Words): string | null {
  if (onSite === null) return null;
  const { voltages, cable } = onSite;
  if (voltages === null) return words.missing.voltageLength;
  if (voltages.verdict === 'overloaded') return words.missing.voltageBeyondSupply;
  return voltages.verdict === 'undecidable' ? openText(voltages, cable.wanted, words) : null;
}

function openText({ cases: { least } }: Voltages, wanted: readonly string[], { missing, figures }: Words): string {
  const told = (v: number | null) => (v === null ? null : figures.volts(toMv(v)));
  const low = told(least.unfavourable && voltageOf(least.unfavourable));
  return missing.voltageBetween({ low, high: told(voltageOf(least.favourable)), wanted });
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
