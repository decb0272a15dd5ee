import { deviceLabel } from '../../plant/plant.js';
import type { Layout } from '../../site/site.js';
import { deadEnds } from '../cable.js';
import type { ExpectedInput } from '../expected.js';
import type { Change } from './change.js';
import type { CauseKind } from './kinds.js';
import { mostPlaces, placesOf, spread } from './places.js';
import { apart, exactly, type Range } from './range.js';
import { type Reading, toleranceOf } from './reading.js';
import { nameOf, type Target, unitOf } from './target.js';
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
export function probesOf(input: ExpectedInput, readings: readonly Reading[]): Probe[][] {
  const done = new Set(readings.map(({ target }) => keyOf(target)));
  const { currents, voltages } = targetsOf(input);
  const open = [...currents, ...voltages].filter((target) => !done.has(keyOf(target)));
  const plain = open.map((target) => ({ ...probeOf(target, input), shows: ({ worked }: Told) => worked(target) }));
  return [
    plain,
    [...unplugged(input, currents), ...switchedOff(input, voltages)],
    [...runOhms(input.entry.layout), betweenWires()],
  ];
}

function targetsOf(input: ExpectedInput): { currents: Target[]; voltages: Target[] } {
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

function probeOf(target: Target, input: ExpectedInput): Omit<Probe, 'shows'> {
  return {
    measure: nameOf(target, input),
    unit: unitOf(target),
    tolerance: (value) => toleranceOf(target, value, input.policy),
  };
}

/** The targets after something was done to the plant. Each case is worked out once for all of them. */
function afterDoing(done: Change, words: string, targets: readonly Target[], input: ExpectedInput): Probe[] {
  const known = new Map<Told, Worked>();
  const workedFor = (cause: Told): Worked => {
    const worked = known.get(cause) ?? cause.afterDoing(done);
    known.set(cause, worked);
    return worked;
  };
  return targets.map((target) => {
    const probe = probeOf(target, input);
    return { ...probe, measure: `${probe.measure}, ${words}`, shows: (cause) => workedFor(cause)(target) };
  });
}

function unplugged(input: ExpectedInput, currents: readonly Target[]): Probe[] {
  if (!isLaid(input)) {
    return afterDoing({ unplugged: 'everything' }, 'with all devices of the segment unplugged', currents, input);
  }
  return spread(placesOf(input, true), mostPlaces(input)).flatMap(({ point, where }) => {
    return point === null
      ? []
      : afterDoing({ unplugged: point }, `with the devices ${where} unplugged`, currents, input);
  });
}

/** Where there is another supply, the voltages without one tell whether that other one is there and reaches them. */
function switchedOff(input: ExpectedInput, voltages: readonly Target[]): Probe[] {
  const { supplies } = input.group;
  if (supplies.length < 2) return [];
  return supplies.flatMap(({ device }) =>
    afterDoing({ out: new Set([device.id]) }, `with ${deviceLabel(device)} switched off`, voltages, input),
  );
}

/** An ohmmeter with its leads tells a fifth more from a fifth less, and 0.2 Ω (common practice, no source). */
const OHM_SHARE = 1 / 6;
const LEAST_OHM = 0.2;

const ohmTolerance = (ohm: number) => Math.max(LEAST_OHM, OHM_SHARE * ohm);

/** The loop resistance of each run by itself, so that nothing else on the segment is read with it. */
function runOhms(layout: Layout | null): Probe[] {
  return (layout?.runs ?? []).map(({ from, to, ohm }, run) => ({
    measure: `resistance of the run from ${layout?.points[from]} to ${layout?.points[to]}, with the supply off, the run taken off at both ends and its wires joined at one`,
    unit: 'Ω',
    shows: ({ change }) => exactly(change.openRun === run ? Number.POSITIVE_INFINITY : ohm * (change.ohmFactor ?? 1)),
    tolerance: ohmTolerance,
  }));
}

function betweenWires(): Probe {
  return {
    measure:
      'resistance between the wires, beyond that of the cable, with the supplies off and all devices of the segment unplugged',
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
