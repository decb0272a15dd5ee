import type { Device, Segment } from '../../plant/plant.js';
import type { Site } from '../../site/site.js';
import type { Place, Places } from './places.js';

/** How near the cable of a segment is known to come to a device, the nearest first. */
export const NEARNESSES = ['same board or room', 'same floor', 'electrically possible'] as const;

export type Nearness = (typeof NEARNESSES)[number];

/** Where a device is: by the archive, and on which boards of the site sheet. */
export interface Spot extends Place {
  readonly sheetBoards: readonly string[];
}

/** Where the cable of a segment comes to: everything that hangs on it or feeds it, wherever it stands. */
export interface Reach {
  readonly boards: ReadonlySet<string>;
  readonly floors: ReadonlySet<string>;
  readonly around: ReadonlySet<string>;
  readonly sheetBoards: ReadonlySet<string>;
}

/** A coupler of a line below hangs on the segment with its upper side, so the cable comes to it as well. */
export function reachOf({ loads, supplies, chokes }: Segment, places: Places, site: Site | null): Reach {
  const feeding = supplies.map(({ device }) => device);
  const devices = [...loads.map(({ device }) => device), ...feeding, ...chokes];
  const found = devices.map(({ location }) => places.of(location));
  return {
    boards: new Set(found.flatMap(({ board }) => board ?? [])),
    floors: new Set(found.flatMap(({ floor }) => floor ?? [])),
    around: new Set(found.flatMap(({ around }) => around)),
    sheetBoards: new Set(feeding.flatMap((device) => boardOf(device, site) ?? [])),
  };
}

/**
 * Where a device of a segment is. A site sheet gives boards to supplies alone: a device is on the board of a supply that
 * sits at the same point of the segment's cable, or that the archive puts into the same board or room.
 */
export function spotOf(device: Device, segment: Segment, places: Places, site: Site | null): Spot {
  const place = places.of(device.location);
  const pointOf = site?.segments.get(segment.id)?.layout?.pointOf;
  const point = pointOf?.get(device.id);
  const beside = segment.supplies.filter(
    (supply) =>
      (point !== undefined && pointOf?.get(supply.device.id) === point) ||
      (place.board !== null && place.board === supply.device.location),
  );
  return { ...place, sheetBoards: beside.flatMap((supply) => boardOf(supply.device, site) ?? []) };
}

function boardOf(supply: Device, site: Site | null): string | null {
  return site?.supplies.get(supply.id)?.board ?? null;
}

/** The place that a device shares with a segment, by which it is at least so near; null where there is none. */
export function sharedPlace(spot: Spot, reach: Reach, nearness: Nearness): string | null {
  if (nearness === 'electrically possible') return null;
  const board = sharedBoard(spot, reach);
  return board === null && nearness === 'same floor' ? sharedFloor(spot, reach) : board;
}

function sharedBoard({ board, sheetBoards }: Spot, reach: Reach): string | null {
  if (board !== null && reach.boards.has(board)) return board;
  return sheetBoards.find((one) => reach.sheetBoards.has(one)) ?? null;
}

/** One is on the floor of the other: a board in a room is two levels below its floor, a room or another board one. */
function sharedFloor({ floor, around }: Spot, reach: Reach): string | null {
  if (floor !== null && reach.around.has(floor)) return floor;
  return around.find((one) => reach.floors.has(one)) ?? null;
}
