import type { Segment } from '../../plant/plant.js';
import { deadEnds } from '../cable.js';
import type { Solution } from '../network/network.js';
import { type Draw, drawsOf } from './draw.js';
import { type Frame, networkOf, type Spread, supplyNodeOf } from './frame.js';
import { type Lowest, lower, lowestAmong } from './lowest.js';
import { solve } from './solve.js';
import type { VoltageCase } from './sources.js';

/** What is known of the voltage at one point: exact where all is placed, else bounds. */
export interface Band {
  readonly lowV: number | null;
  readonly highV: number | null;
}

/** One case, worked out along the runs of a layout. */
export interface AlongRuns {
  readonly unfavourable: Lowest;
  readonly favourable: Lowest;
  /** With what is not placed spread evenly over all points: an estimate, no bound; null where all is placed. */
  readonly estimate: Lowest | null;
  /** By point of the layout. */
  readonly bands: readonly Band[];
}

/**
 * The voltages of a segment whose runs and supplies are known. Where all draws are placed they are exact. Else:
 *
 * - unfavourable, all that is not placed at one point, whichever it is worst at. For constant currents this is a true
 *   bound: the voltage at x falls most by what is drawn at x itself, as no transfer resistance of a passive network is
 *   greater than the driving-point resistance;
 * - favourable, all of it at the supply, but the smallest at every end of the cable where nothing is placed, as cable is
 *   laid to a device; where there are more such ends than devices, all of it at the supply.
 */
export function alongRuns(frame: Frame, segment: Segment, of: VoltageCase): AlongRuns {
  const laid = frame.laid.get(segment);
  if (laid === undefined) throw new Error('the runs or the supplies of the segment are not known');
  const { layout, first } = laid;
  const points = layout.points.length;
  const solveWith = (spread: Spread) => solve(networkOf(frame, segment, of, spread));
  const atSupply = solveWith(() => [[supplyNodeOf(frame, segment), 1]]);
  const unplaced = drawsOf(segment, layout.pointOf).filter(({ point }) => point === null);
  if (unplaced.length === 0) {
    const exact = lowestAmong(atSupply, first, points);
    const bands = layout.points.map((_, at) => bandOf(atSupply, atSupply, first + at));
    return { unfavourable: exact, favourable: exact, estimate: null, bands };
  }
  const lumps = layout.points.map((_, at) => solveWith(() => [[first + at, 1]]));
  const evenly = layout.points.map((_, at) => [first + at, 1 / points] as const);
  return {
    unfavourable: lumps.map((lump) => lowestAmong(lump, first, points)).reduce(lower),
    favourable: favourable(frame, segment, { unplaced, solveWith, first, points }),
    estimate: lowestAmong(
      solveWith(() => evenly),
      first,
      points,
    ),
    bands: lumps.map((lump, at) => bandOf(lump, atSupply, first + at)),
  };
}

interface Placing {
  readonly unplaced: readonly Draw[];
  readonly solveWith: (spread: Spread) => Solution;
  readonly first: number;
  readonly points: number;
}

function favourable(frame: Frame, segment: Segment, { unplaced, solveWith, first, points }: Placing): Lowest {
  const layout = frame.laid.get(segment)?.layout;
  const atSupply = supplyNodeOf(frame, segment);
  const taken = new Set(layout?.pointOf.values());
  const emptyEnds = layout === undefined ? [] : deadEnds(layout).filter((point) => !taken.has(point));
  const smallest = [...unplaced].sort((a, b) => a.ua - b.ua)[0]?.device;
  const ends = emptyEnds.length > unplaced.length ? [] : emptyEnds;
  const solutions = ends.map((end) => solveWith(({ device }) => [[device === smallest ? first + end : atSupply, 1]]));
  return [solveWith(() => [[atSupply, 1]]), ...solutions]
    .map((solution) => lowestAmong(solution, first, points))
    .reduce(lower);
}

function bandOf(low: Solution, high: Solution, node: number): Band {
  return { lowV: voltageAt(low, node), highV: voltageAt(high, node) };
}

function voltageAt(solution: Solution, node: number): number | null {
  return solution.outcome === 'solved' ? (solution.voltages[node] ?? null) : null;
}
