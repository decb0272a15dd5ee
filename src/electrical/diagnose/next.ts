import { deadEnds } from '../cable.js';
import { distancesFrom } from '../distances.js';
import type { ExpectedInput } from '../expected.js';
import { solveNetwork } from '../network/solve.js';
import { rounded } from './fit.js';
import type { CauseKind } from './kinds.js';
import { apart, type Range } from './range.js';
import { type Reading, toleranceOf } from './reading.js';
import { nameOf, type Target, unitOf } from './target.js';
import { isLaid, type Worked } from './worked.js';

/** A measurement that tells a cause from another one. */
export interface NextMeasurement {
  /** `voltage at hall`. */
  readonly measure: string;
  /** What it would show if this is the cause; null where that is not one figure. */
  readonly here: number | null;
  /** What it would show if the other is. */
  readonly otherwise: number | null;
  readonly unit: string;
  /** Kind of the other cause. */
  readonly against: CauseKind;
}

/** A cause as far as it has to be told from others. */
export interface Told {
  readonly kind: CauseKind;
  readonly worked: Worked;
  /** By which the resistance of the cable is greater than planned. */
  readonly ohmFactor: number;
}

/** At so many points a voltage is proposed. */
const MOST_POINTS = 40;

/** What can be measured on the segment and was not yet. */
export function openTargets(input: ExpectedInput, readings: readonly Reading[]): Target[] {
  const { segment, entry, group } = input;
  const done = new Set(readings.map(({ target }) => keyOf(target)));
  const currents = group.supplies.map(({ device }): Target => ({ kind: 'current', supply: device.id }));
  const { layout } = entry;
  if (layout === null || !isLaid(input)) {
    return [...currents, { kind: 'lowest' } as const].filter((target) => !done.has(keyOf(target)));
  }
  const points = new Set([
    ...segment.supplies.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []),
    ...deadEnds(layout),
    ...segment.loads.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []),
  ]);
  const voltages = [...points].slice(0, MOST_POINTS).map((point): Target => ({ kind: 'voltage', point }));
  return [...currents, ...voltages].filter((target) => !done.has(keyOf(target)));
}

function keyOf(target: Target): string {
  if (target.kind === 'current') return `current ${target.supply}`;
  return target.kind === 'voltage' ? `voltage ${target.point}` : target.kind;
}

/**
 * The measurement at which a cause differs most, in tolerances, from the best other one that differs by more than one of
 * them anywhere. Where no meter on the living bus tells it, the resistance of the cable may.
 * @param others best first
 */
export function nextFor(
  cause: Told,
  others: readonly Told[],
  input: ExpectedInput,
  targets: readonly Target[],
): NextMeasurement | null {
  for (const other of others) {
    const found = bestAgainst(cause, other, input, targets) ?? byResistance(cause, other, input);
    if (found !== null) return found;
  }
  return null;
}

function bestAgainst(
  cause: Told,
  other: Told,
  input: ExpectedInput,
  targets: readonly Target[],
): NextMeasurement | null {
  let best: { target: Target; here: Range; otherwise: Range } | null = null;
  let most = 1;
  for (const target of targets) {
    const here = cause.worked(target);
    const otherwise = other.worked(target);
    if (here === null || otherwise === null) continue;
    const differs = apart(here, otherwise) / toleranceOf(target, Math.max(here.low, otherwise.low), input.policy);
    if (differs > most + 1e-6) {
      most = differs;
      best = { target, here, otherwise };
    }
  }
  return (
    best && {
      measure: nameOf(best.target, input),
      here: oneFigure(best.here, unitOf(best.target)),
      otherwise: oneFigure(best.otherwise, unitOf(best.target)),
      unit: unitOf(best.target),
      against: other.kind,
    }
  );
}

/** Kinds that change what an ohmmeter sees in a way that is not told here. */
const OTHER_RESISTANCE: ReadonlySet<CauseKind> = new Set(['short on the segment', 'cable open']);

/** An ohmmeter tells a fifth more from a fifth less (common practice, no source). */
const TOLD_APART = 1.2;

function byResistance(cause: Told, other: Told, input: ExpectedInput): NextMeasurement | null {
  if (OTHER_RESISTANCE.has(cause.kind) || OTHER_RESISTANCE.has(other.kind)) return null;
  const ratio = cause.ohmFactor / other.ohmFactor;
  if (ratio < TOLD_APART && ratio > 1 / TOLD_APART) return null;
  const planned = plannedOhm(input);
  return (
    planned && {
      measure: `resistance of the cable from ${planned.from} to ${planned.to}, with the supply off and the wires joined there`,
      here: rounded(planned.ohm * cause.ohmFactor, 'Ω'),
      otherwise: rounded(planned.ohm * other.ohmFactor, 'Ω'),
      unit: 'Ω',
      against: other.kind,
    }
  );
}

/** Loop resistance from the first supply to the point that is farthest from it along the runs. */
function plannedOhm(input: ExpectedInput): { from: string; to: string; ohm: number } | null {
  const { layout } = input.entry;
  const start = layout?.pointOf.get(input.segment.supplies[0]?.device.id ?? '');
  if (layout === null || start === undefined) return null;
  const distances = distancesFrom(layout, [start]).map((distanceM) => (Number.isFinite(distanceM) ? distanceM : 0));
  const end = distances.indexOf(Math.max(...distances));
  const emfV = 1000;
  const solution = solveNetwork({
    nodes: layout.points.length,
    branches: layout.runs,
    sources: [{ node: start, emfV, ohm: 0, limitA: Number.POSITIVE_INFINITY }],
    loads: [{ node: end, amps: 1 }],
  });
  if (solution.outcome === 'unsolvable' || end === start) return null;
  return {
    from: layout.points[start] ?? '',
    to: layout.points[end] ?? '',
    ohm: emfV - (solution.voltages[end] ?? emfV),
  };
}

function oneFigure({ low, high }: Range, unit: 'mA' | 'V'): number | null {
  return high - low < 1e-6 ? rounded(low, unit) : null;
}
