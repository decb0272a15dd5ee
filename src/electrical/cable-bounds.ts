import type { Layout } from '../site/site.js';
import { distancesFrom, farthestApart, isTree, nearestTogetherM, type Piece } from './distances.js';

/** What a length lies between, m; null: nothing known on that side; both equal: exact. */
export interface Bounds {
  readonly leastM: number | null;
  readonly mostM: number | null;
}

export const UNKNOWN: Bounds = { leastM: null, mostM: null };

/** Devices or supplies: where those sit of which it is said, and how many the others are. */
export interface Placing {
  readonly points: readonly number[];
  readonly unplaced: number;
}

/** A layout, and what the bounds of its lengths need to know of it. */
export interface Drawing {
  readonly layout: Layout;
  readonly pieces: readonly Piece[];
  readonly devices: Placing;
  readonly supplies: Placing;
  /** Supplies with a choke of their own. */
  readonly choked: Placing;
  /** Cable that is known to be there but is in no run. */
  readonly undrawnM: number;
}

/** @param most Infinity: nothing known on that side */
export function boundsOf(leastM: number, most: number): Bounds {
  return { leastM: toMm(leastM), mostM: Number.isFinite(most) ? toMm(Math.max(leastM, most)) : null };
}

/** Lengths are sums of floating-point numbers; a whole millimetre keeps one that is at a limit from reading as above. */
export function toMm(lengthM: number): number {
  return Math.round(lengthM * 1000) / 1000;
}

/**
 * Greatest distance of a device from its nearest supply. A supply that is not placed may be next to any device, so the
 * placed ones bound it from above only; a device that is not placed may hang anywhere along the runs or on what is not
 * drawn.
 */
export function supplyToDevice(drawing: Drawing): Bounds {
  const { layout, devices, supplies, undrawnM } = drawing;
  if (supplies.points.length === 0) return boundsOf(0, anywhereM(drawing));
  const distances = distancesFrom(layout, supplies.points);
  const ofPlaced = devices.points.map((point) => distances[point] ?? 0);
  const provenM = supplies.unplaced > 0 ? 0 : greatestOf(ofPlaced.filter(Number.isFinite));
  const mostM = devices.unplaced > 0 ? farthestAlongM(layout, distances) + undrawnM : greatestOf(ofPlaced);
  return boundsOf(provenM, mostM);
}

/**
 * Greatest distance between two devices.
 * @param capM what it cannot exceed for another reason, Infinity if there is none
 */
export function deviceToDevice(drawing: Drawing, capM: number): Bounds {
  const { layout, devices } = drawing;
  const provenM = farthestApart(layout, devices.points)?.lengthM ?? 0;
  if (devices.unplaced === 0 && areJoined(drawing, devices.points)) return boundsOf(provenM, provenM);
  return boundsOf(provenM, Math.min(anywhereM(drawing), capM));
}

/** Least distance between two supplies with chokes of their own; a further one can only make it less. */
export function chokesApart(drawing: Drawing): Bounds {
  const { layout, choked } = drawing;
  const placedM = nearestTogetherM(layout, choked.points);
  if (placedM === null) return boundsOf(0, anywhereM(drawing));
  const isExact = choked.unplaced === 0 && areJoined(drawing, choked.points);
  return boundsOf(isExact ? placedM : 0, placedM);
}

/** Greatest distance from the nearest source to anywhere along the runs: between both ends' ways round. */
function farthestAlongM({ runs }: Layout, distances: readonly number[]): number {
  return greatestOf(runs.map(({ from, to, lengthM }) => ((distances[from] ?? 0) + (distances[to] ?? 0) + lengthM) / 2));
}

/**
 * What no distance between two places anywhere on the cable exceeds: in a tree that between its points; with rings in
 * it a place may lie half a run away from the nearest point, at both ends of the way.
 * @returns Infinity if runs do not join all of it
 */
function anywhereM({ layout, pieces, undrawnM }: Drawing): number {
  const [piece, further] = pieces;
  if (piece === undefined || further !== undefined) return Number.POSITIVE_INFINITY;
  const betweenPointsM = farthestApart(layout, piece.points)?.lengthM ?? 0;
  const withinRunsM = isTree(piece) ? 0 : greatestOf(piece.runs.map(({ lengthM }) => lengthM));
  return betweenPointsM + withinRunsM + undrawnM;
}

function areJoined({ pieces }: Drawing, points: readonly number[]): boolean {
  const among = new Set(points);
  return pieces.filter((piece) => piece.points.some((point) => among.has(point))).length < 2;
}

/** 0 of none. */
function greatestOf(lengths: readonly number[]): number {
  return lengths.reduce((most, lengthM) => Math.max(most, lengthM), 0);
}
