import type { Goal } from './assignment.js';
import { at, byScore, filled, type Packing, type Score, scoreOf } from './bins.js';
import { byParts } from './by-parts.js';
import { fewestSegments, least } from './exact.js';
import { firstFit } from './first-fit.js';
import { type Load, loadOf } from './load.js';
import { leastSegments } from './lower-bound.js';
import { type PartsBound, partsBound } from './parts.js';
import type { NoSplit, Split, SplitProblem } from './problem.js';

/** Of what is left of the time, for the second objective; the third has the rest, however the second ends. */
const SHARE_OF_TORN = 0.6;

/** No packing is better than these, each with those before it as found. */
type Bounds = Score;

/**
 * Splits a load into segments: fewest segments; then fewest groups torn apart; then the least greatest load. First-fit decreasing by
 * group begins; where bounds do not prove it the best, HiGHS searches on within the time, and what it finds counts only where it
 * holds and is better. The result is never worse than the heuristic's, and says what is proved.
 */
export async function splitLoad(problem: SplitProblem): Promise<Split | NoSplit> {
  const tooLarge = problem.items.find(({ ua }) => ua > problem.capacityUa);
  if (tooLarge !== undefined) return { impossible: 'item too large', id: tooLarge.id };
  if (problem.items.length === 0) return NOTHING_TO_SPLIT;
  if (problem.items.some((item) => (item.places ?? 1) > problem.places)) return { impossible: 'no places' };
  const atLeast = anyway(problem);
  if (atLeast > problem.mostSegments) return { impossible: 'too many segments', atLeast };
  return new Search(problem).run();
}

/** What sum and places ask for: known at once, however many items there are. */
function anyway({ items, capacityUa, places }: SplitProblem): number {
  const ua = items.reduce((sum, item) => sum + item.ua, 0);
  const taken = items.reduce((sum, item) => sum + (item.places ?? 1), 0);
  return Math.max(capacityUa === 0 ? 1 : Math.ceil(ua / capacityUa), Math.ceil(taken / places));
}

const NOTHING_TO_SPLIT: Split = {
  segments: [],
  loadsUa: [],
  torn: 0,
  lowerBound: 0,
  method: 'optimal',
  proved: { segments: true, torn: true, even: true },
  gap: { segments: 0, torn: 0, evenUa: 0 },
};

class Search {
  private readonly load: Load;
  private readonly end: number;
  private readonly lowerBound: number;
  private best: Packing;
  /** Whether the solver improved on or proved anything. */
  private solverHelped = false;

  constructor(private readonly problem: SplitProblem) {
    this.end = performance.now() + problem.seconds * 1000;
    this.load = loadOf(problem);
    const sizes = this.load.kinds.flatMap(({ units, members }) => members.map(() => units));
    this.lowerBound = leastSegments(sizes, this.load.capacity, problem.places, this.load.taken);
    this.best = firstFit(this.load, this.lowerBound);
  }

  async run(): Promise<Split | NoSplit> {
    const segments = await this.fewest();
    if (this.best.length > this.problem.mostSegments) return { impossible: 'too many segments', atLeast: segments };
    for (;;) {
      const size = this.best.length;
      const parts = this.partsOfBest();
      const torn = await this.leastTorn(parts);
      const greatest = await this.mostEven(parts);
      if (this.best.length === size) return this.told({ segments, torn, greatest });
    } // a packing into fewer segments came by the way: what is known of the others holds for as many as there were
  }

  private told(bounds: Bounds): Split {
    const { lowerBound, solverHelped } = this;
    return splitOf(this.problem, this.load, this.best, { bounds, lowerBound, solverHelped });
  }

  private get score(): Score {
    return scoreOf(filled(this.load, this.best));
  }

  private get secondsLeft(): number {
    return (this.end - performance.now()) / 1000;
  }

  private async fewest(): Promise<number> {
    if (this.best.length === this.lowerBound) return this.lowerBound;
    const { packing, bound } = await fewestSegments(this.load, this.best, this.lowerBound, this.secondsLeft);
    return this.take(packing, bound, this.lowerBound);
  }

  private partsOfBest(): PartsBound | null {
    const parts = partsBound(this.load, this.best.length, this.score.torn);
    const packing = parts === null ? null : byParts(this.load, parts);
    if (packing !== null && byScore(scoreOf(filled(this.load, packing)), this.score) < 0) this.best = packing;
    return parts;
  }

  private async leastTorn(parts: PartsBound | null): Promise<number> {
    const tornFrom = parts?.torn ?? tornAnyway(this.load);
    if (this.score.torn === tornFrom) return tornFrom;
    const goal: Goal = { least: 'torn', tornFrom, tornTo: this.score.torn, greatestFrom: 0 };
    const { packing, bound } = await least(this.load, this.best, goal, SHARE_OF_TORN * this.secondsLeft);
    return this.take(packing, bound, tornFrom);
  }

  private async mostEven(parts: PartsBound | null): Promise<number> {
    const { torn, greatest } = this.score;
    const single = Math.max(...this.load.kinds.map(({ units }) => units));
    const mean = Math.ceil(this.load.units / this.best.length);
    const greatestFrom = Math.max(single, mean, parts === null ? 0 : meanOf(parts, torn));
    if (greatest === greatestFrom) return greatestFrom;
    const goal: Goal = { least: 'greatest load', tornFrom: 0, tornTo: torn, greatestFrom };
    const { packing, bound } = await least(this.load, this.best, goal, this.secondsLeft);
    return this.take(packing, bound, greatestFrom);
  }

  private take(packing: Packing, bound: number, known: number): number {
    if (packing !== this.best || bound > known) this.solverHelped = true;
    this.best = packing;
    return bound;
  }
}

/** Least greatest load by the groups alone; beyond the last entry more groups torn change nothing. */
function meanOf({ greatest }: PartsBound, torn: number): number {
  return at(greatest, Math.min(torn, greatest.length - 1));
}

/** Groups larger than a segment are torn anyway. */
function tornAnyway({ groups, capacity, places }: Load): number {
  const segments = groups.map(({ units, taken }) =>
    Math.max(1, units > capacity ? Math.ceil(units / capacity) : 1, Math.ceil(taken / places)),
  );
  return segments.reduce((sum, count) => sum + count - 1, 0);
}

interface Known {
  readonly bounds: Bounds;
  readonly lowerBound: number;
  readonly solverHelped: boolean;
}

function splitOf(
  { items }: SplitProblem,
  load: Load,
  packing: Packing,
  { bounds, lowerBound, solverHelped }: Known,
): Split {
  const segments = membersOf(load, packing);
  const score = scoreOf(filled(load, packing));
  const gap = {
    segments: Math.max(0, score.segments - bounds.segments),
    torn: Math.max(0, score.torn - bounds.torn),
    evenUa: Math.max(0, score.greatest - bounds.greatest) * load.unitUa,
  };
  const proved = { segments: gap.segments === 0, torn: gap.torn === 0, even: gap.evenUa === 0 };
  const optimal = proved.segments && proved.torn && proved.even;
  return {
    segments: segments.map((members) => members.map((member) => at(items, member).id)),
    loadsUa: segments.map((members) => members.reduce((sum, member) => sum + at(items, member).ua, 0)),
    torn: score.torn,
    lowerBound,
    method: optimal ? 'optimal' : solverHelped ? 'within the time' : 'heuristic',
    proved,
    gap,
  };
}

/** Which item stands where; the earlier ones of a kind in the earlier segments. */
function membersOf({ kinds }: Load, packing: Packing): number[][] {
  const next = kinds.map(() => 0);
  const segments = packing.map((counts) =>
    counts.flatMap((count, kind) => {
      const from = at(next, kind);
      next[kind] = from + count;
      return at(kinds, kind).members.slice(from, from + count);
    }),
  );
  const sorted = segments.map((members) => members.sort((a, b) => a - b));
  return sorted.sort((a, b) => at(a, 0) - at(b, 0));
}
