import { type Device, type Segment, segmentLabel } from '../plant/plant.js';
import { toA, toMa } from '../units.js';
import { cableOf, layoutOf, positions } from './layout.js';
import type { Misses } from './misses.js';
import { placed } from './placing.js';
import { deviceNamed, type Scope } from './scope.js';
import type { SheetSegment } from './sheet.js';
import type { HoldUp, Measured, SegmentSite } from './site.js';

/** An entry of the sheet and the segment that it means, as the sheet has it fed. */
export interface SegmentEntry {
  readonly entry: SheetSegment;
  /** Where it stands, `segments[3]`. */
  readonly place: string;
  readonly segment: Segment;
  readonly scope: Scope;
}

/** Where the sheet says what a supply delivers, by the supply; one that feeds several segments has one current. */
export type Meter = Map<Device, { readonly place: string; readonly ua: number }>;

/**
 * What the sheet says of a segment, its names found.
 * @param meter the currents of the entries before, to which those of this one are added
 */
export function segmentSite(given: SegmentEntry, misses: Misses, meter: Meter): SegmentSite {
  const { entry, place } = given;
  const finder = new Finder(given, misses);
  const cable = cableOf(entry, place);
  const layout = layoutOf(entry, cable, finder.points());
  const { totalLength, farthest, auxiliaryLoad, planned, critical, monitoring, holdUp, connected, measured } = entry;
  const position = layout === null ? null : positions(layout.points);
  const point = (at: string | undefined) => (position === null || at === undefined ? null : position(at));
  return {
    place,
    cable,
    layout,
    totalLengthM: totalLength ?? null,
    farthestM: farthest ?? null,
    auxiliaryUa: auxiliaryLoad ?? null,
    planned: planned.map(({ devices, current, at }) => ({ devices, currentUa: current ?? null, point: point(at) })),
    isCritical: critical ?? null,
    wantsReporting: monitoring ?? null,
    holdUp: holdUp === undefined ? null : holdUpOf(holdUp),
    measured: measured === undefined ? null : measuredOf(measured, finder, point, meter),
    connected: connected === undefined ? null : finder.connected(connected),
  };
}

/** Finds devices that a segment's entry names. */
class Finder {
  readonly #here: ReadonlySet<Device>;
  readonly #supplies: ReadonlySet<Device>;
  readonly #said: string;

  constructor(
    readonly given: SegmentEntry,
    readonly misses: Misses,
  ) {
    const { segment } = given;
    this.#said = `segment ${segmentLabel(segment)}`;
    this.#supplies = new Set(segment.supplies.map(({ device }) => device));
    const loads = segment.loads.map(({ device }) => device); // couplers of lines below have their upper side here
    this.#here = new Set([...segment.devices, ...loads, ...this.#supplies]);
  }

  device(name: string, place: string): Device | null {
    return this.#find(name, place, this.#here, `device of ${this.#said}`);
  }

  supply(name: string, place: string): Device | null {
    return this.#find(name, place, this.#supplies, `supply of ${this.#said}`);
  }

  /** Null where one of the names is stale: what is connected in its place the sheet does not say. */
  connected(names: readonly string[]): Set<string> | null {
    const found = names.map((name, index) => this.device(name, `${this.given.place}.connected[${index}]`));
    const devices = found.filter((device) => device !== null);
    return devices.length < found.length ? null : new Set(devices.map(({ id }) => id));
  }

  /** The points at which devices sit, by the device's id. */
  points(): Map<string, string> {
    const { places } = this.given.entry;
    const find = (name: string, place: string) => this.device(name, place);
    const surroundings = { here: [...this.#here], said: this.#said, segment: this.given.segment.id, find };
    const groups = places.length === 0 ? [] : placed(places, `${this.given.place}.places`, surroundings, this.misses);
    return new Map([...groups].map(([device, group]) => [device.id, places[group]?.at ?? '']));
  }

  #find(name: string, place: string, among: ReadonlySet<Device>, said: string): Device | null {
    const { scope, segment } = this.given;
    return deviceNamed({ name, place, segment: segment.id }, { scope, among, said }, this.misses);
  }
}

function holdUpOf({ time, battery, peak }: NonNullable<SheetSegment['holdUp']>): HoldUp {
  return {
    hours: time,
    battery:
      battery === undefined
        ? null
        : {
            capacityAh: battery.capacity ?? null,
            voltageV: battery.voltage,
            efficiency: battery.efficiency ?? null,
            ownA: battery.ownConsumption === undefined ? null : toA(battery.ownConsumption),
            temperatureC: battery.temperature ?? null,
            peukert: battery.peukert ?? null,
            ratedHours: battery.ratedOver ?? null,
          },
    peak: peak === undefined ? null : { currentUa: peak.current, hours: peak.time },
  };
}

function measuredOf(
  { currents, voltages, symptom }: NonNullable<SheetSegment['measured']>,
  finder: Finder,
  point: (at: string | undefined) => number | null,
  meter: Meter,
): Measured {
  const seen = new Set<string>();
  // Of a feed that is not known nobody can say whose current was measured; the name that is gone is told of already.
  const known = finder.given.segment.feed === 'unknown' ? [] : currents;
  return {
    currents: known.flatMap(({ supply, current }, index) => {
      const entry = `${finder.given.place}.measured.currents[${index}]`;
      const place = `${entry}.supply`;
      const device = finder.supply(supply, place);
      if (device === null) return [];
      const before = meter.get(device);
      if (before !== undefined && before.ua !== current && !seen.has(device.id)) {
        finder.misses.wrong(`${entry}.current`, `${before.place} says ${toMa(before.ua)} mA of the same supply`);
      }
      meter.set(device, before ?? { place: `${entry}.current`, ua: current });
      if (seen.has(device.id)) finder.misses.wrong(place, 'the supply has a current already, under another name');
      seen.add(device.id);
      return [{ supply: device.id, ua: current }];
    }),
    voltages: voltages.map(({ at, voltage }) => ({ point: point(at), v: voltage })),
    symptom: symptom ?? null,
  };
}
