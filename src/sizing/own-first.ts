import type { Device, Load } from '../plant/plant.js';
import { sum } from '../units.js';
import { splitLoad } from './split/split.js';
import type { Rooms } from './split-rooms.js';
import { groupOf } from './where.js';

interface Filled {
  readonly stays: readonly Device[];
  readonly goes: readonly (readonly Device[])[];
}

/**
 * Fills the segment itself first, and divides the rest over new lines: what no new line could carry, then whole groups,
 * the heaviest first, then what else there is room for. The better of with and without the last.
 * @returns null where that does not do
 */
export async function ownFirst(movable: readonly Load[], rooms: Rooms, mostLines: number): Promise<Filled | null> {
  const bound = movable.filter(({ current }) => current.ua > rooms.newUa);
  if (!fits(bound, rooms)) return null;
  const whole = withGroups(bound, movable, rooms);
  const full = withItems(whole, movable, rooms);
  const [byGroups, byItems] = [
    await rest(whole, movable, rooms, mostLines),
    await rest(full, movable, rooms, mostLines),
  ];
  if (byGroups === null || byItems === null) return byGroups ?? byItems;
  return byItems.goes.length < byGroups.goes.length ? byItems : byGroups;
}

function fits(loads: readonly Load[], { ownUa, ownPlaces }: Rooms): boolean {
  return loads.length <= ownPlaces && sum(loads.map(({ current }) => current.ua)) <= ownUa;
}

function withGroups(bound: readonly Load[], movable: readonly Load[], rooms: Rooms): readonly Load[] {
  const groups = new Map<string, Load[]>();
  for (const load of movable.filter((one) => !bound.includes(one))) {
    const group = groups.get(groupOf(load.device));
    if (group === undefined) groups.set(groupOf(load.device), [load]);
    else group.push(load);
  }
  return filledWith(bound, [...groups.values()], rooms);
}

function withItems(stays: readonly Load[], movable: readonly Load[], rooms: Rooms): readonly Load[] {
  const others = movable.filter((load) => !stays.includes(load));
  return filledWith(
    stays,
    others.map((load) => [load]),
    rooms,
  );
}

/** Of lots that come or stay away as a whole those that fit, the heaviest first. */
function filledWith(stays: readonly Load[], lots: readonly Load[][], rooms: Rooms): readonly Load[] {
  const heavy = lots.map((lot) => ({ lot, ua: sum(lot.map(({ current }) => current.ua)) }));
  const all = [...stays];
  for (const { lot } of heavy.sort((a, b) => b.ua - a.ua)) if (fits([...all, ...lot], rooms)) all.push(...lot);
  return all;
}

/** By the heuristic alone: the result is not proved anyway. */
async function rest(stays: readonly Load[], movable: readonly Load[], rooms: Rooms, mostLines: number) {
  const staying = new Set(stays);
  const items = movable
    .filter((load) => !staying.has(load))
    .map(({ device, current }) => ({ id: device.id, ua: current.ua, group: groupOf(device) }));
  const split = await splitLoad({
    items,
    capacityUa: rooms.newUa,
    places: rooms.newPlaces,
    mostSegments: mostLines,
    seconds: 0,
  });
  if ('impossible' in split) return null;
  const devices = new Map(movable.map(({ device }) => [device.id, device]));
  return {
    stays: movable.filter((load) => staying.has(load)).map(({ device }) => device),
    goes: split.segments.map((ids) => ids.flatMap((id) => devices.get(id) ?? [])),
  };
}
