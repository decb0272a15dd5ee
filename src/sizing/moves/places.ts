import type { Segment } from '../../plant/plant.js';
import { remembered } from '../../plant/remembered.js';
import { whereOf } from '../where.js';

/** Between the names of a path, as the plant writes it. */
const BETWEEN = ' / ';

/** A floor is a place within the outermost one, the building or the whole. */
const LEAST_FLOOR_DEPTH = 2;

/** A floor holds rooms, and these boards; what holds more than that is a building or a wing. */
const MOST_FLOOR_HEIGHT = 2;

/** What the path of a device says of where it is. */
export interface Place {
  /** The path, where it is a board or a room: a place that nothing is within. */
  readonly board: string | null;
  /** The place one level above a board or room; or the path itself, where others are within. */
  readonly floor: string | null;
  /** The path and every place that it is in, as far as they can be of a floor. */
  readonly around: readonly string[];
}

const NOWHERE: Place = { board: null, floor: null, around: [] };

/**
 * The places of an installation. The plant keeps their names and no kinds, so what is a board, a room or a floor is told
 * by where it stands among the others. A building alone, or one that is all that the archive names, is no place.
 */
export class Places {
  /** How many levels of places are within a place, by its path. */
  readonly #heights = new Map<string, number>();
  readonly #outermost = new Set<string>();
  readonly #placeOf = remembered((path: string) => this.#read(path));

  constructor(segments: readonly Segment[]) {
    const devices = segments.flatMap((segment) => segment.devices);
    const paths = devices.flatMap((device) => whereOf(device) ?? []);
    for (const path of new Set(paths)) this.#hold(path);
  }

  of(location: string | null): Place {
    const path = whereOf({ location });
    return path === null ? NOWHERE : this.#placeOf(path);
  }

  #hold(path: string): void {
    const levels = levelsOf(path);
    for (const [above, level] of levels.toReversed().entries()) {
      this.#heights.set(level, Math.max(above, this.#heights.get(level) ?? 0));
    }
    this.#outermost.add(levels[0] ?? path);
  }

  #read(path: string): Place {
    const levels = levelsOf(path);
    const isInnermost = this.#height(path) === 0;
    const isAll = levels.length === 1 && this.#outermost.size === 1;
    const floors = levels.slice(LEAST_FLOOR_DEPTH - 1);
    const floor = floors.at(isInnermost ? -2 : -1);
    const isFloor = floor !== undefined && this.#height(floor) <= MOST_FLOOR_HEIGHT;
    return { board: isInnermost && !isAll ? path : null, floor: isFloor ? floor : null, around: floors };
  }

  #height(path: string): number {
    return this.#heights.get(path) ?? 0;
  }
}

/** The paths of the places that a path goes through, the outermost first, itself last. */
function levelsOf(path: string): string[] {
  const levels: string[] = [];
  for (let end = path.indexOf(BETWEEN); end >= 0; end = path.indexOf(BETWEEN, end + BETWEEN.length)) {
    levels.push(path.slice(0, end));
  }
  return [...levels, path];
}
