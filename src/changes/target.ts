import { type Nearest, nearestText } from '../documents/nearest.js';
import { quoted } from '../errors.js';
import type { DeviceRecord, LineRecord, PlaceRecord, SegmentRecord } from '../interchange/records.js';
import { locationOf } from '../plant/devices.js';
import { mediumOf } from '../plant/medium.js';
import { remembered } from '../plant/remembered.js';
import { Locations } from '../site/locations.js';
import type { FoundLine } from '../site/split-lines.js';
import type { Change } from './changes.js';
import type { ChangedProject } from './project.js';

/** A line and the project that it is of. */
export interface LineOfProject extends FoundLine {
  readonly project: ChangedProject;
}

/** Where a change is made. */
export interface Target extends LineOfProject {
  /** Null where the line itself is the segment, as in the old form. */
  readonly segment: SegmentRecord | null;
  /** What texts call it. */
  readonly label: string;
  /** What stands there. */
  readonly devices: readonly DeviceRecord[];
}

/** @returns the target, or in a text why there is none */
export function targetOf(change: Change, lines: readonly LineOfProject[], nearest: Nearest): Target | string {
  const { line: name, segment: number, placeOf: at } = change;
  const byId = lines.filter(({ record }) => record.id === name);
  const found = byId.length > 0 ? byId : lines.filter(({ address }) => address === name);
  const [line, ...others] = found;
  if (line === undefined) {
    const like = nearest.to(name, () => lines.map(({ address }) => address));
    return `${at('line')}: ${quoted(name)} is no line of the archive${nearestText(like.map(quoted))}`;
  }
  if (others.length > 0) {
    const ids = found.map(({ record }) => quoted(record.id)).join(', ');
    return `${at('line')}: ${quoted(name)} can be any of ${ids}; name the line by its id`;
  }
  const segment = segmentOf(line.record, number);
  if (typeof segment === 'string') return `${at('segment')}: ${segment}`;
  const medium = mediumOf(segment?.medium, line.record.medium, line.project.record.names);
  if (!medium.needsPower)
    return `${at('line')}: ${quoted(name)} is on the medium ${medium.name}, which carries no bus power`;
  return { ...line, segment, label: labelOf(line, segment), devices: devicesOn(line.record, segment) };
}

function segmentOf({ segments }: LineRecord, number: number | undefined): SegmentRecord | null | string {
  const numbers = segments.map((segment) => segment.number).join(', ');
  if (number === undefined) {
    return segments.length > 1 ? `the line has the segments ${numbers}; name one of them` : (segments[0] ?? null);
  }
  const found = segments.find((segment) => segment.number === number);
  if (found !== undefined) return found;
  return `the line has ${segments.length === 0 ? 'no segments that can be named; leave it out' : `no segment ${number} but ${numbers}`}`;
}

function labelOf({ address, record }: FoundLine, segment: SegmentRecord | null): string {
  return segment !== null && record.segments.length > 1 ? `${address} segment ${segment.number}` : address;
}

/** What stands beside the only segment of a line stands on it. */
function devicesOn({ devices, segments }: LineRecord, segment: SegmentRecord | null): readonly DeviceRecord[] {
  if (segment === null) return devices;
  return segments.length > 1 ? segment.devices : [...segment.devices, ...devices];
}

/** A place of the building, as a change means it. */
export interface FoundPlace {
  readonly path: string;
  /** Those of the target that are in it. */
  readonly devices: ReadonlySet<DeviceRecord>;
  /** The archive has no device there. */
  readonly isNew: boolean;
}

/** @returns the place, or in a text why a name can mean none */
export function placeOf(name: string, { installation, project, devices }: Target): FoundPlace | string {
  const pathOf = remembered((one: PlaceRecord): string | null =>
    locationOf(one, one.parent === undefined ? null : pathOf(one.parent)),
  );
  const all = project.devicesOf(installation).map((device) => {
    const place = installation.places.get(device.id);
    return { device, location: place === undefined ? null : pathOf(place) };
  });
  const [found, ...others] = new Locations(all, [name]).find(name);
  if (found === undefined) return { path: name, devices: new Set(), isNew: true };
  if (others.length > 0) {
    const paths = [found, ...others].map(({ path }) => quoted(path)).join(', ');
    return `${quoted(name)} can be any of ${paths}; write more of the path`;
  }
  const there = new Set(found.devices.map(({ device }) => device));
  return { path: found.path, devices: new Set(devices.filter((one) => there.has(one))), isNew: false };
}
