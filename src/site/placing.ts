import { quoted } from '../errors.js';
import { deviceLabel } from '../plant/plant.js';
import { Locations } from './locations.js';
import type { Misses } from './misses.js';
import type { Named } from './names.js';

/** Devices that belong together, named one by one or by where they are. */
export interface Group {
  readonly devices: readonly string[];
  readonly locations: readonly string[];
}

export interface Located extends Named {
  readonly location: string | null;
}

/** Among which devices the names of groups are looked for. */
export interface Surroundings<T extends Located> {
  /** What is placed: the devices of a segment, or of a line. */
  readonly here: readonly T[];
  /** What `here` is, `segment 1.1`. */
  readonly said: string;
  /** Id of the segment, where there is one. */
  readonly segment: string | null;
  /** The device of a name, which has to be one of `here`; tells of it where it is none. */
  readonly find: (name: string, place: string) => T | null;
}

/**
 * Which device belongs to which group: one that is named goes there; of the locations that it is in, the innermost
 * counts.
 * @param place where the sheet lists the groups
 * @returns positions in `groups` by device
 */
export function placed<T extends Located>(
  groups: readonly Group[],
  place: string,
  surroundings: Surroundings<T>,
  misses: Misses,
): Map<T, number> {
  const found = byLocation(groups, place, surroundings, misses);
  const named = new Map<T, number>();
  groups.forEach(({ devices }, group) => {
    devices.forEach((name, index) => {
      const at = `${place}[${group}].devices[${index}]`;
      const device = surroundings.find(name, at);
      if (device === null) return;
      if (named.has(device)) misses.wrong(at, `${quoted(deviceLabel(device))} stands here under another name already`);
      named.set(device, group);
    });
  });
  for (const [device, group] of named) found.set(device, group);
  return found;
}

function byLocation<T extends Located>(
  groups: readonly Group[],
  place: string,
  { here, said, segment }: Surroundings<T>,
  misses: Misses,
): Map<T, number> {
  const claims = new Map<string, { group: number; depth: number; devices: readonly T[] }>();
  const locations = new Locations(
    here,
    groups.flatMap((group) => group.locations),
  );
  groups.forEach((listed, group) => {
    listed.locations.forEach((name, index) => {
      const at = `${place}[${group}].locations[${index}]`;
      const [found, ...others] = locations.find(name);
      if (found === undefined) {
        const no = `no place in which a device of ${said} is`;
        misses.gone({ place: at, kind: 'location', name, said: no, names: () => locations.all, segment });
      } else if (others.length > 0) {
        const paths = [found, ...others].map(({ path }) => path);
        misses.ambiguous(at, name, paths, 'write more of the path');
      } else if (claims.has(found.path)) misses.wrong(at, 'the place stands here under another name already');
      else claims.set(found.path, { group, depth: found.depth, devices: found.devices });
    });
  });
  const outerFirst = [...claims.values()].sort((a, b) => a.depth - b.depth);
  return new Map(outerFirst.flatMap(({ group, devices }) => devices.map((device) => [device, group] as const)));
}
