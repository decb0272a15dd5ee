import type { Device, Load } from '../plant/plant.js';
import { greatest, sum } from '../units.js';
import { ownFirst } from './own-first.js';
import { leastSegments } from './split/lower-bound.js';
import type { NoSplit, Split, SplitItem, SplitProblem } from './split/problem.js';
import { splitLoad } from './split/split.js';
import type { Rooms } from './split-rooms.js';
import { groupOf } from './where.js';

/** Which devices stay and which go together, and what is proved of that. */
export interface Divided extends Pick<Split, 'torn' | 'method' | 'lowerBound' | 'proved' | 'gap'> {
  readonly stays: readonly Device[];
  /** Those of each new line. */
  readonly goes: readonly (readonly Device[])[];
}

/** An item for what stays on the segment in any case; no id of the archive has a blank in it. */
const STAYS = 'what stays';

/**
 * Divides devices over the segment and new lines. The search knows segments of one size; what the segment itself has
 * less room for than a new line is an item there, which takes places as well. Where the segment has more room, it is
 * also tried to fill it first.
 * @param mostLines that may be new
 * @param seconds for the search
 */
export async function divided(
  movable: readonly Load[],
  rooms: Rooms,
  mostLines: number,
  seconds: number,
): Promise<Divided | NoSplit> {
  const alike = await asAlike(movable, rooms, mostLines, seconds);
  if (rooms.ownUa <= rooms.newUa) return alike;
  const filled = await ownFirst(movable, rooms, mostLines);
  if (filled === null) return alike;
  const { stays, goes } = filled;
  const torn = tornBy([stays, ...goes]);
  if (!('impossible' in alike) && !isLess([goes.length, torn], [alike.goes.length, alike.torn])) return alike;
  return { stays, goes, torn, ...asFarAsKnown([stays, ...goes], torn, movable, rooms) };
}

async function asAlike(movable: readonly Load[], rooms: Rooms, mostLines: number, seconds: number) {
  const split = await splitLoad(problemOf(movable, rooms, mostLines + 1, seconds));
  if ('impossible' in split) return split;
  const devices = new Map(movable.map(({ device }) => [device.id, device]));
  const pieces = split.segments.map((ids) => ids.flatMap((id) => devices.get(id) ?? []));
  const own = ownPiece(split, pieces);
  const { torn, method, lowerBound, proved, gap } = split;
  return {
    stays: pieces[own] ?? [],
    goes: pieces.filter((piece, at) => at !== own && piece.length > 0),
    torn,
    ...(isExact(rooms) ? { method, lowerBound, proved, gap } : asFarAsKnown(pieces, torn, movable, rooms)),
  };
}

function problemOf(movable: readonly Load[], rooms: Rooms, mostSegments: number, seconds: number): SplitProblem {
  const lessUa = Math.max(0, rooms.newUa - rooms.ownUa);
  const lessPlaces = Math.max(0, rooms.newPlaces - rooms.ownPlaces);
  const places = Math.max(1, lessPlaces);
  const own: SplitItem[] = lessUa + lessPlaces === 0 ? [] : [{ id: STAYS, ua: lessUa, group: STAYS, places }];
  const items = movable.map(({ device, current }): SplitItem => {
    return { id: device.id, ua: current.ua, group: groupOf(device) };
  });
  return {
    items: [...own, ...items],
    capacityUa: rooms.newUa,
    places: rooms.newPlaces,
    mostSegments,
    seconds,
  };
}

/** Where what stays is; where nothing tells, the piece with the most devices, so that the fewest are readdressed. */
function ownPiece({ segments }: Split, pieces: readonly (readonly Device[])[]): number {
  const told = segments.findIndex((ids) => ids.includes(STAYS));
  const counts = pieces.map(({ length }) => length);
  return told >= 0 ? told : counts.indexOf(greatest(counts));
}

/** Whether the search’s problem is this one: neither room nor places of the segment were made less than they are. */
function isExact({ newUa, ownUa, newPlaces, ownPlaces }: Rooms): boolean {
  return ownUa <= newUa && (ownPlaces < newPlaces || (ownPlaces === newPlaces && ownUa === newUa));
}

/** Bounds that hold whichever piece has the greater room. */
function asFarAsKnown(
  pieces: readonly (readonly Device[])[],
  torn: number,
  movable: readonly Load[],
  rooms: Rooms,
): Pick<Divided, 'method' | 'lowerBound' | 'proved' | 'gap'> {
  const currents = new Map(movable.map(({ device, current }) => [device, current.ua]));
  const places = Math.max(rooms.newPlaces, rooms.ownPlaces);
  const bound = Math.max(2, leastSegments([...currents.values()], Math.max(rooms.newUa, rooms.ownUa), places));
  const loads = pieces.map((piece) => sum(piece.map((device) => currents.get(device) ?? 0)));
  const gap = {
    segments: Math.max(0, pieces.length - bound),
    torn,
    evenUa: Math.max(0, greatest(loads) - Math.ceil(sum(loads) / pieces.length)),
  };
  const proved = { segments: gap.segments === 0, torn: torn === 0 && gap.segments === 0, even: false };
  return { method: 'heuristic', lowerBound: bound, proved, gap };
}

/** Over all places, the pieces that each is spread over beyond its first. */
function tornBy(pieces: readonly (readonly Device[])[]): number {
  const groups = pieces.map((piece) => new Set(piece.map(groupOf)));
  return sum(groups.map(({ size }) => size)) - new Set(groups.flatMap((group) => [...group])).size;
}

function isLess([lines, torn]: [number, number], [linesOfOther, tornOfOther]: [number, number]): boolean {
  return lines < linesOfOther || (lines === linesOfOther && torn < tornOfOther);
}
