import type {
  DeviceRecord,
  InstallationRecord,
  LineRecord,
  PlaceRecord,
  ProjectRecord,
  SegmentRecord,
} from '../interchange/records.js';
import { locationOf } from '../plant/devices.js';
import { remembered } from '../plant/remembered.js';
import { Misses } from './misses.js';
import { DeviceNames, toldApart } from './names.js';
import { type Located, placed } from './placing.js';
import type { SheetLine, SiteSheet } from './sheet.js';
import type { StaleName } from './site.js';

/** What the documents say once the sheet has told apart what stands on lines with repeaters. */
export interface SplitLines {
  readonly records: readonly ProjectRecord[];
  /** Names of a sheet for another state of the archive, which then change nothing. */
  readonly stale: readonly StaleName[];
}

/**
 * Parts lines of the old form into the segments that the sheet names. Devices that it names in none stay on the line,
 * beside the segments. Comes before the plant is built, which then charges couplers and repeaters to the right ones.
 * @throws InputError `invalid-site-sheet` with place, name and the nearest names for each fault
 */
export function splitLines(records: readonly ProjectRecord[], sheet: SiteSheet, archiveSha256: string): SplitLines {
  if (sheet.lines.length === 0) return { records, stale: [] };
  const misses = new Misses(sheet, archiveSha256);
  const lines = records.flatMap(linesOf);
  const lineOfDevice = lineIndex(lines);
  const parts = new Map<LineRecord, LineRecord>();
  sheet.lines.forEach((entry, index) => {
    const place = `lines[${index}]`;
    const found = lineOf(entry, place, lines, misses);
    if (found === null) return;
    if (parts.has(found.record)) misses.wrong(`${place}.line`, 'the line has an entry already, under another name');
    else if (found.record.segments.length > 0)
      misses.wrong(`${place}.line`, 'the export has the segments of this line');
    else parts.set(found.record, partsOf(entry, place, { ...found, lineOfDevice, sheet }, misses));
  });
  misses.refuse();
  return { records: records.map((record) => withLines(record, parts)), stale: misses.stale };
}

export interface FoundLine {
  readonly record: LineRecord;
  /** area.line */
  readonly address: string;
  readonly installation: InstallationRecord;
}

/** All lines of a project. */
export function linesOf({ installations }: ProjectRecord): FoundLine[] {
  return installations.flatMap((installation) =>
    installation.areas.flatMap((area) =>
      area.lines.map((record) => ({ record, address: `${area.address}.${record.address}`, installation })),
    ),
  );
}

function lineOf({ line: name }: SheetLine, place: string, lines: readonly FoundLine[], misses: Misses) {
  const at = `${place}.line`;
  const byId = lines.filter(({ record }) => record.id === name);
  const found = byId.length > 0 ? byId : lines.filter(({ address }) => address === name);
  const [only] = found;
  if (only === undefined) {
    const names = () => lines.map(({ address }) => address);
    misses.gone({ place: at, kind: 'line', name, said: 'no line of the archive', names });
    return null;
  }
  if (found.length === 1) return only;
  const ids = found.map(({ record }) => record.id);
  misses.ambiguous(at, name, ids, 'name the line by its id');
  return null;
}

/** On which line a device is now, by its id and by its address; worked out once there is a name that is nowhere. */
function lineIndex(lines: readonly FoundLine[]): (name: string) => string | null {
  let index: Map<string, string> | null = null;
  return (name) => {
    index ??= new Map(
      lines.flatMap(({ record, address }) =>
        devicesOf(record).flatMap((device): [string, string][] => [
          [device.id, address],
          ...(device.address === undefined ? [] : [[`${address}.${device.address}`, address] as [string, string]]),
        ]),
      ),
    );
    const address = index.get(name);
    return address === undefined ? null : `on ${address}`;
  };
}

function devicesOf({ devices, segments }: LineRecord): DeviceRecord[] {
  return [...devices, ...segments.flatMap((segment) => segment.devices)];
}

interface OnLine extends Located {
  readonly record: DeviceRecord;
}

function partsOf(
  entry: SheetLine,
  place: string,
  {
    record,
    address,
    installation,
    lineOfDevice,
    sheet,
  }: FoundLine & { readonly lineOfDevice: (name: string) => string | null; readonly sheet: SiteSheet },
  misses: Misses,
) {
  const pathOf = remembered((one: PlaceRecord): string | null =>
    locationOf(one, one.parent === undefined ? null : pathOf(one.parent)),
  );
  const here = record.devices.map((device): OnLine => {
    const location = installation.places.get(device.id);
    return {
      id: device.id,
      address: device.address === undefined ? null : `${address}.${device.address}`,
      name: device.name ?? '',
      location: location === undefined ? null : pathOf(location),
      record: device,
    };
  });
  const names = new DeviceNames(here);
  const said = `line ${address}`;
  const find = (name: string, at: string): OnLine | null => {
    const [only, ...others] = names.find(name);
    if (only === undefined) {
      const now = lineOfDevice(name);
      const but = now === null ? '' : `: it is ${now}`;
      misses.gone({ place: at, kind: 'device', name, said: `no device of ${said}${but}`, names: () => names.all, now });
    } else if (others.length > 0) misses.ambiguous(at, name, toldApart([only, ...others]), 'name the device by its id');
    else return only;
    return null;
  };
  const groups = placed(entry.segments, `${place}.segments`, { here, said, segment: null, find }, misses);
  for (const [device, group] of feedsOf(entry, { record, address }, sheet, names)) {
    if (!groups.has(device)) groups.set(device, group);
  }
  return partedBy(entry, record, (device) => groups.get(device), here);
}

/** What is said to feed a segment of the line stands on that segment, where the sheet places it nowhere. */
function feedsOf(
  { segments }: SheetLine,
  { record, address }: Pick<FoundLine, 'record' | 'address'>,
  sheet: SiteSheet,
  names: DeviceNames<OnLine>,
): (readonly [OnLine, number])[] {
  return segments.flatMap(({ number }, group) => {
    const calls = [`${address} segment ${number}`, partId(record, number)];
    const fedBy = sheet.segments.flatMap((one) => (calls.includes(one.segment) ? (one.fedBy ?? []) : []));
    return fedBy.flatMap((name) => {
      const [only, ...others] = names.find(name);
      return only === undefined || others.length > 0 ? [] : [[only, group] as const];
    });
  });
}

function partId(record: LineRecord, number: number): string {
  return `${record.id}/${number}`;
}

function partedBy(
  entry: SheetLine,
  record: LineRecord,
  groupOf: (device: OnLine) => number | undefined,
  here: readonly OnLine[],
): LineRecord {
  const of = (group: number | undefined) => here.filter((one) => groupOf(one) === group).map(({ record: one }) => one);
  const segments = entry.segments.map(
    ({ number, name }, group): SegmentRecord => ({
      id: partId(record, number),
      number,
      name,
      medium: undefined,
      devices: of(group),
      sourceLine: record.sourceLine,
    }),
  );
  return { ...record, segments, devices: of(undefined) };
}

/** The project with some of its lines replaced. */
export function withLines(record: ProjectRecord, parts: ReadonlyMap<LineRecord, LineRecord>): ProjectRecord {
  const installations = record.installations.map((installation) => ({
    ...installation,
    areas: installation.areas.map((area) => ({
      ...area,
      lines: area.lines.map((line) => parts.get(line) ?? line),
    })),
  }));
  return { ...record, installations };
}
