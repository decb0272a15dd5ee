import type { Layout } from '../site/site.js';
import { NearestFirst } from './nearest-first.js';

/** Two points, and the cable between them along the shortest way, m. */
export interface Pair {
  readonly lengthM: number;
  readonly from: number;
  readonly to: number;
}

/** Points that runs join to each other, and those runs. */
export interface Piece {
  /** Positions in {@link Layout.points}, ascending. */
  readonly points: readonly number[];
  readonly runs: Layout['runs'];
}

interface Way {
  readonly to: number;
  readonly lengthM: number;
}

/** By point, the runs that lead away from it. */
type Ways = readonly (readonly Way[])[];

/**
 * Cable from each point to the nearest of some points, m, by Dijkstra's method.
 * @returns Infinity for a point to which no cable leads
 */
export function distancesFrom(layout: Layout, points: readonly number[]): number[] {
  return sweep(waysOf(layout), points);
}

/**
 * Greatest distance along the cable between two of the points, and which two; of several pairs the first found. Points
 * that no cable joins have no distance and are passed over. In a piece that is a tree two sweeps find it (what is
 * farthest from anywhere is one end); others take more of them.
 * @param points positions; one that stands there twice is two at no distance
 * @returns null if no two of them are joined
 */
export function farthestApart(layout: Layout, points: readonly number[]): Pair | null {
  const ways = waysOf(layout);
  let most: Pair | null = null;
  for (const [piece, among] of byPiece(layout, points)) {
    if (among.length < 2) continue;
    const apart = isTree(piece) ? apartInTree(ways, among) : apartAnywhere(ways, among);
    if (most === null || apart.lengthM > most.lengthM) most = apart;
  }
  return most;
}

/**
 * Least distance along the cable between two of the points, m.
 * @returns null if no two of them are joined
 */
export function nearestTogetherM(layout: Layout, points: readonly number[]): number | null {
  const ways = waysOf(layout);
  let least = Number.POSITIVE_INFINITY;
  points.forEach((from, at) => {
    const distances = sweep(ways, [from]);
    for (const to of points.slice(at + 1)) least = Math.min(least, distances[to] ?? least);
  });
  return Number.isFinite(least) ? least : null;
}

/** What hangs together, by its first point. */
export function piecesOf(layout: Layout): Piece[] {
  const ways = waysOf(layout);
  const pieceOf = new Array<number>(layout.points.length).fill(-1);
  const pieces: { points: number[]; runs: Layout['runs'][number][] }[] = [];
  layout.points.forEach((_, first) => {
    if (pieceOf[first] !== -1) return;
    const points = [first];
    pieceOf[first] = pieces.length;
    for (const point of points) {
      for (const { to } of ways[point] ?? []) {
        if (pieceOf[to] !== -1) continue;
        pieceOf[to] = pieces.length;
        points.push(to);
      }
    }
    pieces.push({ points: points.sort((a, b) => a - b), runs: [] });
  });
  for (const run of layout.runs) pieces[pieceOf[run.from] ?? -1]?.runs.push(run);
  return pieces;
}

/** There is one way only between any two of its points. */
export function isTree({ points, runs }: Piece): boolean {
  return runs.length === points.length - 1;
}

function waysOf({ points, runs }: Layout): Ways {
  const ways: Way[][] = points.map(() => []);
  for (const { from, to, lengthM } of runs) {
    ways[from]?.push({ to, lengthM });
    ways[to]?.push({ to: from, lengthM });
  }
  return ways;
}

function sweep(ways: Ways, sources: readonly number[]): number[] {
  const distances = new Array<number>(ways.length).fill(Number.POSITIVE_INFINITY);
  const queue = new NearestFirst();
  for (const source of sources) {
    distances[source] = 0;
    queue.add({ point: source, lengthM: 0 });
  }
  for (let next = queue.take(); next !== undefined; next = queue.take()) {
    if (next.lengthM > (distances[next.point] ?? 0)) continue; // a shorter way was found meanwhile
    for (const { to, lengthM } of ways[next.point] ?? []) {
      const overHereM = next.lengthM + lengthM;
      if (overHereM >= (distances[to] ?? 0)) continue;
      distances[to] = overHereM;
      queue.add({ point: to, lengthM: overHereM });
    }
  }
  return distances;
}

/** The points that lie in each piece, in their order. */
function byPiece(layout: Layout, points: readonly number[]): (readonly [Piece, number[]])[] {
  const pieces = piecesOf(layout).map((piece): [Piece, number[]] => [piece, []]);
  const amongOf = new Map(pieces.flatMap(([piece, among]) => piece.points.map((point) => [point, among])));
  for (const point of points) amongOf.get(point)?.push(point);
  return pieces;
}

function apartInTree(ways: Ways, among: readonly number[]): Pair {
  const end = farthestFrom(ways, among, 0);
  return farthestFrom(ways, among, among.indexOf(end.to));
}

/** How far the farthest of the others is from one of the points, as far as sweeps have told, m. */
interface Reach {
  readonly at: number;
  readonly leastM: number;
  readonly mostM: number;
}

/**
 * What a sweep finds bounds the other points: none has another farther away than by way of where the sweep began, nor
 * all others nearer than what the way there leaves of the sweep's farthest. Points that may be an end are swept from in
 * turn with points in the middle, which bound the most others, until no point can be an end of a greater distance
 * (after Takes and Kosters). At worst, as on an even ring, that is a sweep from each.
 */
function apartAnywhere(ways: Ways, among: readonly number[]): Pair {
  let most: Pair = { lengthM: -1, from: -1, to: -1 };
  let open = among.map((_, at): Reach => ({ at, leastM: 0, mostM: Number.POSITIVE_INFINITY }));
  for (let turn = 0; open.length > 0; turn++) {
    const { at } = turn % 2 === 0 ? leastOf(open, ({ mostM }) => -mostM) : leastOf(open, ({ leastM }) => leastM);
    const distances = sweep(ways, [among[at] ?? -1]);
    const farthest = farthestOf(distances, among, at);
    if (farthest.lengthM > most.lengthM) most = farthest;
    const greatestM = most.lengthM;
    open = open
      .map((reach) => narrowed(reach, distances[among[reach.at] ?? -1] ?? 0, farthest.lengthM))
      .filter(({ mostM }) => mostM > greatestM);
  }
  return most;
}

function narrowed({ at, leastM, mostM }: Reach, apartM: number, farthestM: number): Reach {
  return { at, leastM: Math.max(leastM, farthestM - apartM), mostM: Math.min(mostM, apartM + farthestM) };
}

/** The first with the least rank. */
function leastOf(open: readonly Reach[], rank: (reach: Reach) => number): Reach {
  return open.reduce((best, one) => (rank(one) < rank(best) ? one : best));
}

/** From one of the points to the farthest of the others; there are at least two, all joined. */
function farthestFrom(ways: Ways, among: readonly number[], at: number): Pair {
  return farthestOf(sweep(ways, [among[at] ?? -1]), among, at);
}

function farthestOf(distances: readonly number[], among: readonly number[], at: number): Pair {
  const from = among[at] ?? -1;
  let most: Pair = { lengthM: -1, from, to: from };
  among.forEach((to, other) => {
    const lengthM = distances[to] ?? 0;
    if (other !== at && lengthM > most.lengthM) most = { lengthM, from, to };
  });
  return most;
}
