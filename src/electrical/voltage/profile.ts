import type { Segment } from '../../plant/plant.js';
import type { SegmentSite } from '../../site/site.js';
import { distancesFrom } from '../distances.js';
import type { Band } from './along-runs.js';
import { type ByLength, PARTS } from './by-length.js';
import { voltageOf } from './lowest.js';
import type { VoltageCase } from './sources.js';

/** Voltage at one place of the cable. */
export interface ProfilePoint {
  /** Its name in the site sheet; null for a place that only a distance tells. */
  readonly name: string | null;
  /** Along the cable to the nearest supply, m; null where no run leads to one. */
  readonly distanceM: number | null;
  readonly bands: { readonly [of in VoltageCase]: Band };
}

/** The voltages along the cable of a segment, for whoever draws them. */
export interface Profile {
  readonly points: readonly ProfilePoint[];
  /** Which points are joined, by their positions. */
  readonly joins: readonly { readonly from: number; readonly to: number }[];
}

type ByCase<T> = { readonly [of in VoltageCase]: T };

export function profileAlongRuns(
  { supplies }: Segment,
  { layout }: SegmentSite,
  bands: ByCase<readonly Band[]>,
): Profile {
  if (layout === null) return { points: [], joins: [] };
  const distances = distancesFrom(
    layout,
    supplies.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []),
  );
  const points = layout.points.map((name, at) => ({
    name,
    distanceM: finite(distances[at]),
    bands: { typical: bands.typical[at] ?? NOTHING, least: bands.least[at] ?? NOTHING },
  }));
  return { points, joins: layout.runs.map(({ from, to }) => ({ from, to })) };
}

/** Along a cable of which only the length is known: between the bounds the voltage falls in a straight line. */
export function profileByLength(mostM: number, cases: ByCase<ByLength>): Profile {
  const points = Array.from({ length: PARTS + 1 }, (_, at) => {
    const share = at / PARTS;
    return {
      name: null,
      distanceM: Math.round(mostM * share * 1000) / 1000,
      bands: { typical: bandAt(cases.typical, share), least: bandAt(cases.least, share) },
    };
  });
  return { points, joins: points.slice(1).map((_, at) => ({ from: at, to: at + 1 })) };
}

const NOTHING: Band = { lowV: null, highV: null };

function bandAt({ unfavourable, favourable, atSupply }: ByLength, share: number): Band {
  const between = (startV: number | null, endV: number | null) =>
    startV === null || endV === null ? null : startV + (endV - startV) * share;
  return {
    lowV: between(atSupply.lowV, unfavourable && voltageOf(unfavourable)),
    highV: between(atSupply.highV, voltageOf(favourable)),
  };
}

function finite(distanceM: number | undefined): number | null {
  return distanceM !== undefined && Number.isFinite(distanceM) ? distanceM : null;
}
