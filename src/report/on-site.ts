import type { Diagnosis } from '../electrical/diagnose/diagnose.js';
import type { OnSite } from '../electrical/on-site.js';
import { type Lowest, voltageOf } from '../electrical/voltage/lowest.js';
import type { CaseFigures, Voltages } from '../electrical/voltage/voltage.js';
import { sum, toMa, toMaOrNull, toMv } from '../units.js';
import type { ReportOnSite } from './site-shape.js';

/** What the site sheet adds to a segment, as the report shows it. */
export function reportOnSite(onSite: OnSite): ReportOnSite {
  const { entry, cable, voltages, holdUp } = onSite;
  const { totalM, supplyToDeviceM, deviceToDeviceM, chokesApartM, wanted } = cable;
  return {
    entry: entry.place,
    critical: entry.isCritical,
    monitoring: entry.wantsReporting,
    cable: { totalM, supplyToDeviceM, deviceToDeviceM, chokesApartM, wanted: [...wanted] },
    voltages: voltages && reportVoltages(voltages),
    plannedVoltages: onSite.plannedVoltages && reportVoltages(onSite.plannedVoltages),
    holdUp: holdUp && reportHoldUp(holdUp),
    expected: onSite.expected && reportExpected(onSite, onSite.expected),
    diagnosis: onSite.diagnosis && reportDiagnosis(onSite.diagnosis),
  };
}

function reportVoltages({ basis, verdict, cases, profile }: Voltages): ReportOnSite['voltages'] {
  const nameOf = (point: number | null) => (point === null ? null : (profile.points[point]?.name ?? null));
  const caseOf = ({ supplyV, unfavourable, favourable, estimateV }: CaseFigures) => ({
    supplyV: toMv(supplyV),
    unfavourableV: millivolts(unfavourable && voltageOf(unfavourable)),
    favourableV: millivolts(voltageOf(favourable)),
    estimateV: millivolts(estimateV),
    point: basis === 'length only' ? null : nameOf(pointOf(unfavourable ?? favourable)),
    because: becauseOf(unfavourable) ?? becauseOf(favourable),
  });
  return {
    basis,
    verdict,
    typical: caseOf(cases.typical),
    least: caseOf(cases.least),
    profile: {
      points: profile.points.map(({ name, distanceM, bands: { typical, least } }) => ({
        name,
        distanceM,
        typical: { lowV: millivolts(typical.lowV), highV: millivolts(typical.highV) },
        least: { lowV: millivolts(least.lowV), highV: millivolts(least.highV) },
      })),
      joins: profile.joins.map(({ from, to }) => ({ from, to })),
    },
  };
}

function pointOf(lowest: Lowest): number | null {
  return 'v' in lowest ? lowest.point : null;
}

function becauseOf(lowest: Lowest | null): string | null {
  return lowest !== null && 'because' in lowest ? lowest.because : null;
}

function reportHoldUp(figures: NonNullable<OnSite['holdUp']>): ReportOnSite['holdUp'] {
  const { wantedHours, busA, batteryA, batteryV, neededAh, capacityAh, lastsHours, holds } = figures;
  const { factors, assumed, methods, caution } = figures;
  return {
    wantedHours,
    busMa: Math.round(busA * 1e6) / 1000,
    batteryV,
    batteryMa: Math.ceil(batteryA * 1000),
    neededAh: Math.ceil(neededAh * 100) / 100,
    capacityAh,
    lastsHours: lastsHours === null ? null : Math.floor(lastsHours * 100) / 100,
    holds,
    factors,
    assumed: [...assumed],
    methods: [...methods],
    caution,
  };
}

type Reading = NonNullable<ReportOnSite['expected']>['readings'][number];

function reportExpected(
  { entry }: OnSite,
  { connectedBy, currents, voltages }: NonNullable<OnSite['expected']>,
): ReportOnSite['expected'] {
  const { currents: measuredUa = [], voltages: measuredV = [] } = entry.measured ?? {};
  const ofSupplies = currents.map(({ supplies, labels, ua, lowUa, highUa }): Reading => {
    const found = measuredUa.filter(({ supply }) => supplies.includes(supply));
    return {
      quantity: 'current',
      unit: 'mA',
      supplies: [...supplies],
      at: labels.join(' + '),
      point: null,
      expected: toMaOrNull(ua),
      low: toMa(lowUa),
      high: toMa(highUa),
      measured: found.length < supplies.length ? null : toMa(sum(found.map(({ ua: measured }) => measured))),
    };
  });
  const atPoints = voltages.map(({ point, v, lowV, highV }): Reading => {
    const name = point === null ? null : (entry.layout?.points[point] ?? null);
    return {
      quantity: 'voltage',
      unit: 'V',
      supplies: [],
      at: name ?? 'the far end',
      point: name,
      expected: millivolts(v),
      low: millivolts(lowV),
      high: millivolts(highV),
      measured: measuredV.find((one) => one.point === point)?.v ?? null,
    };
  });
  return { connectedBy, readings: [...ofSupplies, ...atPoints] };
}

function reportDiagnosis({ observations, causes, further, missing }: Diagnosis): ReportOnSite['diagnosis'] {
  return {
    observations: observations.map((one) => ({ ...one })),
    causes: causes.map(({ misfits, next, ...cause }) => ({
      ...cause,
      misfits: misfits.map((one) => ({ ...one })),
      next: next && { ...next, here: { ...next.here }, otherwise: { ...next.otherwise } },
    })),
    further,
    missing: [...missing],
  };
}

/** Whole millivolts, rounded down: no figure reads better than it is. */
function millivolts(v: number | null): number | null {
  return v === null ? null : toMv(v);
}
