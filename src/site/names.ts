import { deviceLabel } from '../plant/plant.js';

/** What people may call a device by. */
export interface Named {
  readonly id: string;
  /** area.line.device */
  readonly address: string | null;
  readonly name: string;
}

/** Finds devices by what a sheet calls them: by id, else by individual address, else by name. */
export class DeviceNames<T extends Named> {
  readonly #keys: readonly ReadonlyMap<string, readonly T[]>[];
  #all: readonly string[] | null = null;

  constructor(readonly devices: readonly T[]) {
    this.#keys = [
      grouped(devices, ({ id }) => id),
      grouped(devices, ({ address }) => address),
      grouped(devices, ({ name }) => name),
    ];
  }

  /** All devices that the name can mean. */
  find(name: string): readonly T[] {
    return this.#keys.map((devices) => devices.get(name)).find((found) => found !== undefined) ?? [];
  }

  /** Everything that a device can be called by, but for its id, which nobody mistypes. */
  get all(): readonly string[] {
    this.#all ??= this.#keys.slice(1).flatMap((devices) => [...devices.keys()]);
    return this.#all;
  }
}

/** Lists by a key; what has none is in no list. */
export function grouped<T>(all: readonly T[], key: (one: T) => string | null): Map<string, T[]> {
  const lists = new Map<string, T[]>();
  for (const one of all) {
    const name = key(one);
    if (name === null || name === '') continue;
    const list = lists.get(name);
    if (list === undefined) lists.set(name, [one]);
    else list.push(one);
  }
  return lists;
}

/** Devices of one name, told apart: label and id. */
export function toldApart(devices: readonly Named[]): string[] {
  return devices.map((device) => {
    const label = deviceLabel(device);
    return label === device.id ? label : `${device.id} (${label})`;
  });
}
