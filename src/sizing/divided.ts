import type { Device, Load } from '../plant/plant.js';
import { greatest, sum } from '../units.js';
import { leastSegments } from './split/lower-bound.js';
import type { NoSplit, Split, SplitItem, SplitProblem } from './split/problem.js';
import { splitLoad } from './split/split.js';
import type { Rooms } from './split-rooms.js';
import { whereOf } from './where.js';

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
 * less room for than a new line is an item there, one that takes places beside it.
 * @param mostLines that may be new
 * @param seconds for the search
 */
export async function divided(
  movable: readonly Load[],
  rooms: Rooms,
  mostLines: number,
  seconds: number,
): Promise<Divided | NoSplit> {
  const split = await splitLoad(problemOf(movable, rooms, mostLines + 1, seconds));
  if ('impossible' in split) return split;
  const devices = new Map(movable.map(({ device }) => [device.id, device]));
  const pieces = split.segments.map((ids) => ids.flatMap((id) => devices.get(id) ?? []));
  const own = ownPiece(split, pieces);
  const { torn, method, lowerBound, proved, gap } = isExact(rooms) ? split : asFarAsKnown(split, movable, rooms);
  return {
    torn,
    method,
    lowerBound,
    proved,
    gap,
    stays: pieces[own] ?? [],
    goes: pieces.filter((piece, at) => at !== own && piece.length > 0),
  };
}

function problemOf(movable: readonly Load[], rooms: Rooms, mostSegments: number, seconds: number): SplitProblem {
  const lessUa = Math.max(0, rooms.newUa - rooms.ownUa);
  const lessPlaces = Math.max(0, rooms.newPlaces - rooms.ownPlaces);
  const own: SplitItem[] = lessUa + lessPlaces === 0 ? [] : [{ id: STAYS, ua: lessUa, group: STAYS }];
  const beside = Array.from({ length: Math.max(0, lessPlaces - 1) }, (_, at): SplitItem => {
    return { id: `${STAYS} ${at + 1}`, ua: 0, group: STAYS };
  });
  const items = movable.map(({ device, current }): SplitItem => {
    return { id: device.id, ua: current.ua, group: whereOf(device) ?? `${STAYS} ${device.id}` };
  });
  return {
    items: [...own, ...beside, ...items],
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
  split: Split,
  movable: readonly Load[],
  rooms: Rooms,
): Pick<Divided, 'torn' | 'method' | 'lowerBound' | 'proved' | 'gap'> {
  const currents = movable.map(({ current }) => current.ua);
  const places = Math.max(rooms.newPlaces, rooms.ownPlaces);
  const bound = Math.max(2, leastSegments(currents, Math.max(rooms.newUa, rooms.ownUa), places));
  const meanUa = Math.ceil(sum(currents) / split.segments.length);
  const gap = {
    segments: Math.max(0, split.segments.length - bound),
    torn: split.torn,
    evenUa: Math.max(0, greatest(split.loadsUa) - meanUa),
  };
  const proved = { segments: gap.segments === 0, torn: gap.torn === 0 && gap.segments === 0, even: false };
  return { torn: split.torn, method: 'heuristic', lowerBound: bound, proved, gap };
}
