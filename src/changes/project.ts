import type {
  DeviceRecord,
  InstallationRecord,
  LineRecord,
  PlaceRecord,
  ProjectRecord,
  SegmentRecord,
} from '../interchange/records.js';
import type { Policy } from '../policy/policy.js';
import { linesOf, withLines } from '../site/split-lines.js';
import { PlannedProducts } from '../tender/products.js';
import { ProductNames } from './products.js';

/** What errors and reports call the changes where they would name a part of an archive. */
const CHANGES_PART = 'changes';

/** A project to which changes are made, one by one. */
export class ChangedProject {
  /** Products that come with the changes. */
  readonly made = new PlannedProducts(CHANGES_PART);
  readonly names: ProductNames;
  readonly #removed = new Set<DeviceRecord>();
  readonly #added = new Map<LineRecord, Map<SegmentRecord | null, DeviceRecord[]>>();
  readonly #places = new Map<InstallationRecord, Map<string, PlaceRecord>>();
  readonly #touched = new Set<LineRecord>();

  constructor(
    readonly record: ProjectRecord,
    policy: Policy,
  ) {
    this.names = new ProductNames(record, policy);
  }

  devicesOf(installation: InstallationRecord): DeviceRecord[] {
    const lines = linesOf(this.record).filter((line) => line.installation === installation);
    return lines.flatMap(({ record: { devices, segments } }) => [
      ...devices,
      ...segments.flatMap((segment) => segment.devices),
    ]);
  }

  isRemoved(device: DeviceRecord): boolean {
    return this.#removed.has(device);
  }

  remove(line: LineRecord, devices: readonly DeviceRecord[]): void {
    this.#touched.add(line);
    for (const device of devices) this.#removed.add(device);
  }

  /** @param segment null where the line itself is it */
  add(line: LineRecord, segment: SegmentRecord | null, devices: readonly DeviceRecord[]): void {
    this.#touched.add(line);
    const segments = this.#added.get(line) ?? new Map<SegmentRecord | null, DeviceRecord[]>();
    this.#added.set(line, segments);
    segments.set(segment, [...(segments.get(segment) ?? []), ...devices]);
  }

  put(installation: InstallationRecord, device: DeviceRecord, path: string): void {
    const places = this.#places.get(installation) ?? new Map<string, PlaceRecord>();
    this.#places.set(installation, places);
    places.set(device.id, { name: path, type: undefined, parent: undefined });
  }

  /** The project with all changes made. */
  changed(): ProjectRecord {
    const placed = this.record.installations.map((installation) => {
      const more = this.#places.get(installation);
      return more === undefined
        ? installation
        : { ...installation, places: new Map([...installation.places, ...more]) };
    });
    const lines = new Map([...this.#touched].map((line) => [line, this.#lineWith(line)]));
    const products = new Map([...this.record.products, ...this.made.records]);
    return withLines({ ...this.record, installations: placed, products }, lines);
  }

  #lineWith(line: LineRecord): LineRecord {
    const left = (devices: readonly DeviceRecord[]) => devices.filter((device) => !this.#removed.has(device));
    const added = (segment: SegmentRecord | null) => this.#added.get(line)?.get(segment) ?? [];
    return {
      ...line,
      devices: [...left(line.devices), ...added(null)],
      segments: line.segments.map((one) => ({ ...one, devices: [...left(one.devices), ...added(one)] })),
    };
  }
}
