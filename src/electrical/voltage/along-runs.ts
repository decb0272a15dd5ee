import type { Segment } from '../../plant/plant.js';
import type { Layout } from '../../site/site.js';
import { greatest } from '../../units.js';
import { deadEnds } from '../cable.js';
import type { Solution } from '../network/network.js';
import { type Draw, drawsOf } from './draw.js';
import { type Frame, networkOf, type Spread, supplyNodeOf } from './frame.js';
import { type Lowest, lower, lowestAmong } from './lowest.js';
import { solve } from './solve.js';
import type { VoltageCase } from './sources.js';
import { worstPlaces } from './worst-places.js';

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
 * - unfavourable, all that is not placed at one point, whichever it is worst at (`worst-places.ts`). For constant
 *   currents this is a true bound: the voltage at x falls most by what is drawn at x itself, as no transfer resistance of
 *   a passive network is greater than the driving-point resistance;
 * - favourable, nothing of it drawn at all, which leaves no point lower than any arrangement does, but the smallest at
 *   every end of the cable where nothing is placed, as cable is laid to a device. Where there are more such ends than
 *   devices, none of them is certain to have one.
 */
export function alongRuns(frame: Frame, segment: Segment, of: VoltageCase): AlongRuns {
  const laid = frame.laid.get(segment);
  if (laid === undefined) throw new Error('the runs or the supplies of the segment are not known');
  const { layout, first } = laid;
  const draws = drawsOf(segment, layout.pointOf);
  const seen = new Seen(layout, draws, first, (spread) => solve(networkOf(frame, segment, of, spread)));
  const unplaced = draws.filter(({ point }) => point === null);
  if (unplaced.length === 0) return seen.exactly();
  const atSupply = supplyNodeOf(frame, segment);
  const lumps = worstPlaces(segment, layout).map((at) => ({ at, lump: seen.solve(() => [[first + at, 1]]) }));
  const evenly = layout.points.map((_, at) => [first + at, 1 / layout.points.length] as const);
  const none = seen.solve(() => []);
  return {
    unfavourable: lumps.map(({ at, lump }) => seen.lowest(lump, [at])).reduce(lower),
    favourable: refusedBy(seen.solve(() => [[atSupply, 1]])) ?? seen.favourable(none, unplaced),
    estimate: seen.lowest(
      seen.solve(() => evenly),
      layout.points.keys(),
    ),
    bands: layout.points.map((_, at) => ({
      lowV: lowestOf(lumps.map(({ lump }) => voltageAt(lump, first + at))),
      highV: voltageAt(none, first + at),
    })),
  };
}

/** A segment's cable under loads, looked at where devices are. */
class Seen {
  readonly #devices: ReadonlySet<number>;

  constructor(
    readonly layout: Layout,
    draws: readonly Draw[],
    readonly first: number,
    readonly solve: (spread: Spread) => Solution,
  ) {
    this.#devices = new Set(draws.flatMap(({ point }) => point ?? []));
  }

  exactly(): AlongRuns {
    const solution = this.solve(() => []);
    const exact = this.lowest(solution, []);
    const bands = this.layout.points.map((_, at) => {
      const v = voltageAt(solution, this.first + at);
      return { lowV: v, highV: v };
    });
    return { unfavourable: exact, favourable: exact, estimate: null, bands };
  }

  /** The lowest voltage at a placed device, or at one of further points. */
  lowest(solution: Solution, more: Iterable<number>): Lowest {
    return lowestAmong(solution, this.first, new Set([...this.#devices, ...more]));
  }

  favourable(none: Solution, unplaced: readonly Draw[]): Lowest {
    const { layout, first } = this;
    const taken = new Set(layout.pointOf.values());
    const emptyEnds = deadEnds(layout).filter((point) => !taken.has(point));
    const smallest = [...unplaced].sort((a, b) => a.ua - b.ua)[0]?.device;
    const ends = emptyEnds.length > unplaced.length ? [] : emptyEnds;
    const atEnds = ends.map((end) =>
      this.lowest(
        this.solve(({ device }) => (device === smallest ? [[first + end, 1]] : [])),
        [end],
      ),
    );
    if (this.#devices.size > 0 || ends.length > 0) return [this.lowest(none, []), ...atEnds].reduce(lower);
    return this.#highest(none); // all of it may be at the best point
  }

  #highest(solution: Solution): Lowest {
    if (solution.outcome === 'unsolvable') return { because: solution.because };
    const { first, layout } = this;
    const voltages = layout.points.map((_, at) => solution.voltages[first + at] ?? 0);
    const v = greatest(voltages);
    return { v, point: voltages.indexOf(v) };
  }
}

function refusedBy(solution: Solution): Lowest | null {
  return solution.outcome === 'unsolvable' && solution.because === 'beyond the limit of the supplies'
    ? { because: solution.because }
    : null;
}

function lowestOf(voltages: readonly (number | null)[]): number | null {
  return voltages.includes(null) ? null : -greatest(voltages.map((v) => -Number(v)));
}

function voltageAt(solution: Solution, node: number): number | null {
  return solution.outcome === 'solved' ? (solution.voltages[node] ?? null) : null;
}
