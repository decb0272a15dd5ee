import { grouped } from './names.js';

/** Between the names of a path, as the plant writes it. */
const BETWEEN = ' / ';

/** A path that is longer is of no building; whoever has one names the devices. Without a bound a few names would make
 * paths of gigabytes, each deep down holding all that it stands in. */
const LONGEST_PATH = 1000;

interface Located {
  /** Places from the outermost to the innermost. */
  readonly location: string | null;
}

/** A place that a sheet names, and the devices in it and in the places within. */
export interface Place<T> {
  readonly path: string;
  /** Of how many names the path is: the greater, the more inner. */
  readonly depth: number;
  readonly devices: readonly T[];
}

/** Finds places by their path or by a part of it: `House / Ground floor / Hall`, `Ground floor / Hall`, `Hall`. */
export class Locations<T extends Located> {
  readonly #byInnermost: ReadonlyMap<string, readonly Place<T>[]>;
  readonly #paths: readonly string[];

  /** @param wanted the names that will be asked for: only what they can mean is held */
  constructor(devices: readonly T[], wanted: Iterable<string>) {
    const byPath = grouped(devices, ({ location }) =>
      location !== null && location.length <= LONGEST_PATH ? location : null,
    );
    this.#paths = [...byPath.keys()];
    const innermost = new Set([...wanted].map((name) => name.split(BETWEEN).at(-1) ?? ''));
    this.#byInnermost = indexed(byPath, innermost);
  }

  /** All places that a name can mean; a whole path means only itself. */
  find(name: string): readonly Place<T>[] {
    const parts = name.split(BETWEEN);
    const places = this.#byInnermost.get(parts.at(-1) ?? '') ?? [];
    const whole = places.find(({ path }) => path === name);
    return whole === undefined ? places.filter(({ path }) => path.endsWith(BETWEEN + name)) : [whole];
  }

  /** The names of single places, and whole paths. */
  get all(): readonly string[] {
    return [...new Set(this.#paths.flatMap((path) => [...path.split(BETWEEN), path]))];
  }
}

/** The places whose innermost name is one of these, by it. */
function indexed<T>(
  byPath: ReadonlyMap<string, readonly T[]>,
  innermost: ReadonlySet<string>,
): Map<string, readonly Place<T>[]> {
  const places = new Map<string, { path: string; depth: number; devices: T[] }>();
  for (const [whole, devices] of byPath) {
    let path = '';
    whole.split(BETWEEN).forEach((name, index) => {
      path = index === 0 ? name : path + BETWEEN + name;
      if (!innermost.has(name)) return;
      const place = places.get(path);
      if (place === undefined) places.set(path, { path, depth: index + 1, devices: [...devices] });
      else for (const device of devices) place.devices.push(device);
    });
  }
  return grouped([...places.values()], ({ path }) => path.split(BETWEEN).at(-1) ?? null);
}
