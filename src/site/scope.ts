import { type Device, type Installation, type Segment, type Supply, segmentLabel, segmentsOf } from '../plant/plant.js';
import type { Misses } from './misses.js';
import { DeviceNames, grouped, toldApart } from './names.js';

/** An installation and what its segments, devices and supplies are called. */
export class Scope {
  readonly segments: readonly Segment[];
  readonly devices: DeviceNames<Device>;
  readonly supplies: DeviceNames<Device>;
  readonly #supplyOf: ReadonlyMap<Device, Supply>;
  readonly #standsOn: ReadonlyMap<Device, string>;

  constructor(readonly installation: Installation) {
    this.segments = segmentsOf(installation);
    const supplies = this.segments.flatMap((segment) => segment.supplies);
    this.#supplyOf = new Map(supplies.map((supply) => [supply.device, supply]));
    this.supplies = new DeviceNames([...this.#supplyOf.keys()]);
    const placed = this.segments.flatMap((segment) => segment.devices);
    this.devices = new DeviceNames([...placed, ...installation.unplaced]);
    this.#standsOn = new Map(
      this.segments.flatMap((segment) => {
        const label = segmentLabel(segment);
        return segment.devices.map((device) => [device, label] as const);
      }),
    );
  }

  supplyOf(device: Device): Supply | undefined {
    return this.#supplyOf.get(device);
  }

  /** Where a device is, in words. */
  whereIs(device: Device): string {
    const label = this.#standsOn.get(device);
    return label === undefined ? 'on no line' : `on ${label}`;
  }
}

/** A segment and the installation that it is of. */
export interface ScopedSegment {
  readonly segment: Segment;
  readonly scope: Scope;
}

/** Finds segments of all installations by what texts call them, else by id. */
export class SegmentNames {
  readonly #byLabel: ReadonlyMap<string, readonly ScopedSegment[]>;
  readonly #byId: ReadonlyMap<string, readonly ScopedSegment[]>;

  constructor(scopes: readonly Scope[]) {
    const all = scopes.flatMap((scope) => scope.segments.map((segment) => ({ segment, scope })));
    this.#byLabel = grouped(all, ({ segment }) => segmentLabel(segment));
    this.#byId = grouped(all, ({ segment }) => segment.id);
  }

  find(name: string): readonly ScopedSegment[] {
    return this.#byLabel.get(name) ?? this.#byId.get(name) ?? [];
  }

  labels(): Iterable<string> {
    return this.#byLabel.keys();
  }
}

/** Where a name stands in the sheet, and in the entry of which segment. */
export interface Mention {
  readonly name: string;
  readonly place: string;
  /** Id of the segment, null for a name that stands in none. */
  readonly segment: string | null;
}

/** The supply that a name means, in any of the installations; tells of it where it means none, or several. */
export function supplyNamed({ name, place, segment }: Mention, scopes: readonly Scope[], misses: Misses) {
  const found = scopes.flatMap(({ supplies }) => supplies.find(name));
  const [only, ...others] = found;
  if (only !== undefined && others.length === 0) return only;
  if (only !== undefined) {
    misses.ambiguous(place, name, toldApart(found), 'name the supply by its id');
    return null;
  }
  const isOther = scopes.some(({ devices }) => devices.find(name).length > 0);
  const said = isOther ? 'a device of the archive, but no supply that stands on a segment' : 'no supply of the archive';
  misses.gone({
    place,
    kind: 'device',
    name,
    said,
    names: () => scopes.flatMap(({ supplies }) => supplies.all),
    segment,
  });
  return null;
}

/**
 * The device that a name means, which has to be one of some; tells of it where it is none.
 * @param said what these are, `device of segment 1.1`
 */
export function deviceNamed(
  { name, place, segment }: Mention,
  { scope, among, said }: { readonly scope: Scope; readonly among: ReadonlySet<Device>; readonly said: string },
  misses: Misses,
): Device | null {
  const found = scope.devices.find(name);
  const [only, ...others] = found;
  if (only === undefined) {
    const names = () => scope.devices.all;
    misses.gone({ place, kind: 'device', name, said: 'no device of the archive', names, segment });
  } else if (others.length > 0) misses.ambiguous(place, name, toldApart(found), 'name the device by its id');
  else if (among.has(only)) return only;
  else {
    const now = scope.whereIs(only);
    misses.gone({ place, kind: 'device', name, said: `no ${said}: it is ${now}`, names: () => [], segment, now });
  }
  return null;
}
