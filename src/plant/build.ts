import { FIRST_SCHEMA_WITH_SEGMENTS, KNOWN_SCHEMAS } from '../interchange/read.js';
import type {
  DeviceRecord,
  InstallationRecord,
  LineRecord,
  PlaceRecord,
  ProjectRecord,
  SegmentRecord,
} from '../interchange/records.js';
import type { Policy } from '../policy/policy.js';
import { chargeCouplers, type OpenLine, type OpenSegment } from './couplers.js';
import { ratingOf } from './current.js';
import { isCouplerAtZero, type LineContext, locationOf, toDevice } from './devices.js';
import { mediumOf } from './medium.js';
import type { Device, Installation, Load, Project, Supply } from './plant.js';
import { type KnownProduct, ProductIndex } from './products.js';
import { remembered } from './remembered.js';

/** Turns what the documents say into the plant. The policy gives the current of devices that declare none. */
export function buildProject(record: ProjectRecord, policy: Policy): Project {
  return {
    id: record.id,
    name: record.name ?? null,
    schema: record.schema,
    schemaKnown: record.schema === null || KNOWN_SCHEMAS.has(record.schema),
    installations: record.installations.map((installation) => buildInstallation(installation, record, policy)),
  };
}

function buildInstallation(record: InstallationRecord, project: ProjectRecord, policy: Policy): Installation {
  const builder = new LineBuilder(record, project, policy);
  const lines = record.areas.flatMap((area) => area.lines.map((line) => builder.line(area.address, line)));
  const unchargedCouplers = chargeCouplers(lines, policy);
  return {
    number: record.number,
    name: record.name ?? null,
    part: record.part,
    lines,
    unplaced: record.unassigned.map((device) => builder.device(device, null)),
    unchargedCouplers,
  };
}

class LineBuilder {
  readonly #products: ProductIndex;
  readonly #locationOf: (place: PlaceRecord) => string | null = remembered((place) =>
    locationOf(place, place.parent === undefined ? null : this.#locationOf(place.parent)),
  );

  constructor(
    readonly installation: InstallationRecord,
    readonly project: ProjectRecord,
    readonly policy: Policy,
  ) {
    this.#products = new ProductIndex(project, policy);
  }

  device(record: DeviceRecord, line: LineContext | null): Device {
    const { places } = this.installation;
    return toDevice(record, { line, places, known: this.#known(record), locationOf: this.#locationOf });
  }

  #known({ productRef }: Pick<DeviceRecord, 'productRef'>): KnownProduct {
    return this.#products.get(productRef);
  }

  line(area: number, record: LineRecord): OpenLine {
    const segments: OpenSegment[] = [];
    const line: OpenLine = {
      id: record.id,
      address: `${area}.${record.address}`,
      areaAddress: area,
      lineAddress: record.address,
      name: record.name ?? null,
      segments,
      sourceLine: record.sourceLine,
    };
    const context = this.#lineContext(record, line.address);
    const isCertain = !this.#hasDevicesBesideSegments(record, context);
    for (const found of segmentsOfRecord(record, this.project.schema)) {
      segments.push(this.#segment(isCertain ? found : { ...found, bounds: 'unknown' }, record, line, context));
    }
    return line;
  }

  #lineContext({ segments, devices }: LineRecord, address: string): LineContext {
    const all = [...devices, ...segments.flatMap((segment) => segment.devices)];
    return { address, hasCoupler: all.some((device) => isCouplerAtZero(device, this.#known(device).effective)) };
  }

  /** Devices on a line with several segments that could change the balance of any of them. */
  #hasDevicesBesideSegments({ segments, devices }: LineRecord, line: LineContext): boolean {
    return segments.length > 1 && devices.some((device) => matters(this.device(device, line)));
  }

  #segment(
    { record, bounds }: FoundSegment,
    lineRecord: LineRecord,
    line: OpenLine,
    context: LineContext,
  ): OpenSegment {
    const medium = mediumOf(record.medium, lineRecord.medium, this.project.names);
    const devices = record.devices.map((device) => this.device(device, context));
    const isBridged = devices.some(({ joins }) => joins === 'other segment');
    return {
      id: record.id,
      number: record.number,
      name: record.name ?? null,
      line,
      medium,
      boundariesKnown: bounds === 'stated' || (bounds === 'whole line' && !isBridged),
      devices,
      loads: medium.needsPower ? this.#ownLoads(devices) : [],
      supplies: devices.filter(isSupply).map((device) => this.#supply(device)),
      feed: 'own',
      chokes: devices.filter(({ role }) => role === 'choke'),
      sourceLine: record.sourceLine,
    };
  }

  #ownLoads(devices: readonly Device[]): Load[] {
    const participants = devices.filter(({ participates }) => participates);
    return participants.map((device) => ({
      device,
      chargedAs: 'participant',
      current: this.#products.get(device.productRef ?? undefined).current,
    }));
  }

  #supply(device: Device): Supply {
    const hardware = this.#products.get(device.productRef ?? undefined).effective?.hardware;
    const isReporting = hardware?.hasIndividualAddress === true && hardware.hasApplicationProgram;
    return { device, ratingUa: ratingOf(device, this.policy), isReporting };
  }
}

function matters(device: Device): boolean {
  return device.participates || isSupply(device) || device.role === 'choke';
}

function isSupply({ role }: Device): boolean {
  return role === 'supply' || role === 'supply and coupler';
}

interface FoundSegment {
  readonly record: SegmentRecord;
  /** What the export says of its bounds: that it is stated, that it is the whole line, or nothing that is certain. */
  readonly bounds: 'stated' | 'whole line' | 'unknown';
}

/**
 * The segments of a line. In the old form the line itself is one. Devices that stand on a line beside its segments are
 * on the only one, or, where there are several, on one that the export does not name.
 */
function segmentsOfRecord(line: LineRecord, schema: number | null): FoundSegment[] {
  const { id, segments, devices } = line;
  const [only, ...others] = segments;
  if (only !== undefined && others.length === 0) {
    return [{ record: { ...only, devices: [...only.devices, ...devices] }, bounds: 'stated' }];
  }
  const stated = segments.map((record) => ({ record, bounds: 'stated' as const }));
  const hasSegments = schema === null || schema >= FIRST_SCHEMA_WITH_SEGMENTS;
  const isOldForm = only === undefined && (!hasSegments || devices.length > 0);
  if (!isOldForm && devices.length === 0) return stated;
  const rest = { id, number: 0, name: undefined, medium: undefined, devices, sourceLine: line.sourceLine };
  return [...stated, { record: rest, bounds: isOldForm ? 'whole line' : 'unknown' }];
}
