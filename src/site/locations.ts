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
  readonly #byName = new Map<string, Place<T>[]>();
  readonly #wanted: ReadonlySet<string>;
  readonly #innermost: ReadonlySet<string>;
  readonly #paths: readonly string[];

  /** @param wanted the names that will be asked for: only what they can mean is held */
  constructor(devices: readonly T[], wanted: Iterable<string>) {
    this.#wanted = new Set(wanted);
    this.#innermost = new Set([...this.#wanted].map((name) => name.split(BETWEEN).at(-1) ?? ''));
    const byPath = grouped(devices, ({ location }) =>
      location !== null && location.length <= LONGEST_PATH ? location : null,
    );
    this.#paths = [...byPath.keys()];
    this.#hold(byPath);
  }

  /** All places that a name can mean; a whole path means only itself. */
  find(name: string): readonly Place<T>[] {
    const places = this.#byName.get(name) ?? [];
    const whole = places.find(({ path }) => path === name);
    return whole === undefined ? places : [whole];
  }

  /** The names of single places, and whole paths. */
  get all(): readonly string[] {
    return [...new Set(this.#paths.flatMap((path) => [...path.split(BETWEEN), path]))];
  }

  #hold(byPath: ReadonlyMap<string, readonly T[]>): void {
    const places = new Map<string, { path: string; depth: number; devices: T[] }>();
    for (const [whole, devices] of byPath) {
      const parts = whole.split(BETWEEN);
      parts.forEach((name, index) => {
        if (!this.#innermost.has(name)) return;
        const outerFirst = parts.slice(0, index + 1);
        const path = outerFirst.join(BETWEEN);
        const place = places.get(path);
        if (place === undefined) {
          const held = { path, depth: index + 1, devices: [...devices] };
          places.set(path, held);
          this.#name(held, outerFirst);
        } else for (const device of devices) place.devices.push(device);
      });
    }
  }

  /** Holds a place by each end of its path that is wanted. */
  #name(place: Place<T>, parts: readonly string[]): void {
    parts.forEach((_, from) => {
      const name = parts.slice(from).join(BETWEEN);
      if (!this.#wanted.has(name)) return;
      const places = this.#byName.get(name);
      if (places === undefined) this.#byName.set(name, [place]);
      else places.push(place);
    });
  }
}
