import type { Policy } from '../../policy/policy.js';
import type { Measured, Symptom } from '../../site/site.js';
import { toMa } from '../../units.js';
import { exactly, type Range } from './range.js';
import { nameOf, type Target, type ToldInput, unitOf } from './target.js';

/** What was measured or seen, in the unit of its target. */
export interface Reading {
  readonly target: Target;
  readonly what: string;
  readonly unit: 'mA' | 'V';
  /** Exact for a measurement; open to one side for what was only seen. */
  readonly seen: Range;
  /** By how much a computed figure may differ and still agree. */
  readonly tolerance: number;
  /** By a meter, or only seen. */
  readonly isMeasured: boolean;
}

/** No current is told closer than this, mA (common practice, no source: a clamp-on meter resolves a few milliamperes). */
const LEAST_TOLERANCE_MA = 5;

/** A bus that is called dead has less than this share of what a device needs (derived here, a wide tolerance). */
const DEAD_SHARE = 0.5;

/** What the sheet says was measured or seen on a segment. */
export function readingsOf(input: ToldInput): Reading[] {
  const { measured } = input.entry;
  if (measured === null) return [];
  return [
    ...measuredReadings(measured, input),
    ...(measured.symptom === null ? [] : symptomReadings(measured.symptom, input)),
  ];
}

function measuredReadings({ currents, voltages }: Measured, input: ToldInput): Reading[] {
  const reading = (target: Target, value: number): Reading => ({
    target,
    what: nameOf(target, input),
    isMeasured: true,
    unit: unitOf(target),
    seen: exactly(value),
    tolerance: toleranceOf(target, value, input.policy),
  });
  const own = new Set(input.group.supplies.map(({ device }) => device.id));
  return [
    ...currents
      .filter(({ supply }) => own.has(supply))
      .map(({ supply, ua }) => reading({ kind: 'current', supply }, toMa(ua))),
    ...voltages.map(({ point, v }) => reading(point === null ? { kind: 'lowest' } : { kind: 'voltage', point }, v)),
  ];
}

/** By how much a measured figure may differ from a computed one, mA or V. */
export function toleranceOf(target: Target, value: number, { measuredShare, measuredV }: Policy): number {
  return unitOf(target) === 'V' ? measuredV : Math.max(LEAST_TOLERANCE_MA, measuredShare * value);
}

function symptomReadings(symptom: Symptom, { segment, site, policy, words }: ToldInput): Reading[] {
  const { symptoms, measurements } = words.diagnosis;
  const { hardDeviceV, measuredV, measuredShare } = policy;
  const reading = (target: Target, what: string, seen: Range, tolerance: number): Reading => {
    return { target, what, unit: unitOf(target), seen, tolerance, isMeasured: false };
  };
  switch (symptom) {
    case 'dead':
      return [reading({ kind: 'highest' }, symptoms.dead, exactly(0), hardDeviceV * DEAD_SHARE)];
    case 'far end drops out':
      return [
        reading({ kind: 'lowest' }, symptoms[symptom], { low: 0, high: hardDeviceV }, measuredV),
        reading(
          { kind: 'highest' },
          measurements.nearEndWorks,
          { low: hardDeviceV, high: Number.POSITIVE_INFINITY },
          measuredV,
        ),
      ];
    case 'supply at its limit': {
      const limits = segment.supplies.flatMap(
        ({ device, ratingUa }) => site.supplies.get(device.id)?.limitUa ?? ratingUa ?? [],
      );
      if (limits.length === 0) return [];
      const tolerance = Math.max(LEAST_TOLERANCE_MA, measuredShare * toMa(Math.min(...limits)));
      return [
        reading({ kind: 'beyond limit' }, symptoms[symptom], { low: 0, high: Number.POSITIVE_INFINITY }, tolerance),
      ];
    }
  }
}
