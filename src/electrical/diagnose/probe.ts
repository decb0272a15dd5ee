import { deviceLabel } from '../../plant/plant.js';
import { deadEnds } from '../cable.js';
import type { Change } from './change.js';
import type { CauseKind } from './kinds.js';
import { mostPlaces, placesOf, spread } from './places.js';
import { apart, exactly, type Range } from './range.js';
import { type Reading, toleranceOf } from './reading.js';
import { nameOf, type Target, type ToldInput, unitOf } from './target.js';
import { isLaid, type Worked } from './worked.js';

/** A cause as far as it has to be told from others. */
export interface Told {
  readonly kind: CauseKind;
  readonly change: Change;
  readonly worked: Worked;
  /** The case after something was done to the plant for a measurement. */
  readonly afterDoing: (done: Change) => Worked;
}

/** Something that can be measured. */
export interface Probe {
  /** `voltage at hall`. */
  readonly measure: string;
  readonly unit: 'mA' | 'V' | 'Ω';
  /** What it shows in a case; Infinity for an open circuit, null where it cannot be said. */
  readonly shows: (cause: Told) => Range | null;
  /** By how much two values may differ and still agree. @param value the greater of them */
  readonly tolerance: (value: number) => number;
}

/** At so many points a voltage is proposed. */
const MOST_POINTS = 40;

/**
 * What can be measured on the segment and was not yet, in stages: with the bus as it is, with something unplugged or
 * switched off, and with the supplies off. What disturbs less comes first.
 */
export function probesOf(input: ToldInput, readings: readonly Reading[]): Probe[][] {
  const done = new Set(readings.map(({ target }) => keyOf(target)));
  const { currents, voltages } = targetsOf(input);
  const open = [...currents, ...voltages].filter((target) => !done.has(keyOf(target)));
  const plain = open.map((target) => ({ ...probeOf(target, input), shows: ({ worked }: Told) => worked(target) }));
  return [
    plain,
    [...unplugged(input, currents), ...switchedOff(input, voltages)],
    [...runOhms(input), betweenWires(input)],
  ];
}

function targetsOf(input: ToldInput): { currents: Target[]; voltages: Target[] } {
  const { segment, entry, group } = input;
  const currents = group.supplies.map(({ device }): Target => ({ kind: 'current', supply: device.id }));
  const { layout } = entry;
  if (layout === null || !isLaid(input)) return { currents, voltages: [{ kind: 'lowest' }] };
  const points = new Set([
    ...segment.supplies.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []),
    ...deadEnds(layout),
    ...segment.loads.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []),
  ]);
  return { currents, voltages: [...points].slice(0, MOST_POINTS).map((point): Target => ({ kind: 'voltage', point })) };
}

function keyOf(target: Target): string {
  if (target.kind === 'current') return `current ${target.supply}`;
  return target.kind === 'voltage' ? `voltage ${target.point}` : target.kind;
}

function probeOf(target: Target, input: ToldInput): Omit<Probe, 'shows'> {
  return {
    measure: nameOf(target, input),
    unit: unitOf(target),
    tolerance: (value) => toleranceOf(target, value, input.policy),
  };
}

/** The targets after something was done to the plant. Each case is worked out once for all of them. */
function afterDoing(
  done: Change,
  named: (measure: string) => string,
  targets: readonly Target[],
  input: ToldInput,
): Probe[] {
  const known = new Map<Told, Worked>();
  const workedFor = (cause: Told): Worked => {
    const worked = known.get(cause) ?? cause.afterDoing(done);
    known.set(cause, worked);
    return worked;
  };
  return targets.map((target) => {
    const probe = probeOf(target, input);
    return { ...probe, measure: named(probe.measure), shows: (cause) => workedFor(cause)(target) };
  });
}

function unplugged(input: ToldInput, currents: readonly Target[]): Probe[] {
  const { measurements } = input.words.diagnosis;
  if (!isLaid(input)) {
    return afterDoing({ unplugged: 'everything' }, measurements.allUnplugged, currents, input);
  }
  return spread(placesOf(input, true), mostPlaces(input)).flatMap(({ point, name }) => {
    if (point === null) return [];
    const named = (measure: string) => measurements.unplugged({ measure, place: name });
    return afterDoing({ unplugged: point }, named, currents, input);
  });
}

/** Where there is another supply, the voltages without one tell whether that other one is there and reaches them. */
function switchedOff(input: ToldInput, voltages: readonly Target[]): Probe[] {
  const { supplies } = input.group;
  if (supplies.length < 2) return [];
  const { switchedOff: told } = input.words.diagnosis.measurements;
  const named = (supply: string) => (measure: string) => told({ measure, supply });
  return supplies.flatMap(({ device }) =>
    afterDoing({ out: new Set([device.id]) }, named(deviceLabel(device)), voltages, input),
  );
}

/** An ohmmeter with its leads tells a fifth more from a fifth less, and 0.2 Ω (common practice, no source). */
const OHM_SHARE = 1 / 6;
const LEAST_OHM = 0.2;

const ohmTolerance = (ohm: number) => Math.max(LEAST_OHM, OHM_SHARE * ohm);

/** The loop resistance of each run by itself, so that nothing else on the segment is read with it. */
function runOhms({ entry: { layout }, words }: ToldInput): Probe[] {
  const { runResistance } = words.diagnosis.measurements;
  return (layout?.runs ?? []).map(({ from, to, ohm }, run) => ({
    measure: runResistance({ from: layout?.points[from] ?? '', to: layout?.points[to] ?? '' }),
    unit: 'Ω',
    shows: ({ change }) => exactly(change.openRun === run ? Number.POSITIVE_INFINITY : ohm * (change.ohmFactor ?? 1)),
    tolerance: ohmTolerance,
  }));
}

function betweenWires({ words }: ToldInput): Probe {
  return {
    measure: words.diagnosis.measurements.betweenWires,
    unit: 'Ω',
    shows: ({ change }) => exactly(change.short?.ohm ?? Number.POSITIVE_INFINITY),
    tolerance: ohmTolerance,
  };
}

/** How far apart what a probe shows in two cases is, in tolerances; Infinity where one is open. */
export function differenceOf({ tolerance }: Probe, a: Range, b: Range): number {
  const between = a.low === b.low ? 0 : apart(a, b);
  if (!Number.isFinite(between)) return between;
  return between / tolerance(Math.max(a.low, b.low));
}
