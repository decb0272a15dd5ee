import { InputError, quoted } from '../errors.js';
import type { Limits } from '../limits.js';
import type {
  AreaRecord,
  DeviceRecord,
  InstallationRecord,
  LineRecord,
  PlaceRecord,
  SegmentRecord,
} from './records.js';
import { type Attributes, type ElementContext, type ElementHandler, readXml } from './xml/reader.js';

/** The topology document of a project: what it says of lines, segments, devices and places. */
export interface TopologyDocument {
  readonly schema: number;
  readonly installations: readonly Omit<InstallationRecord, 'number'>[];
}

/**
 * Reads a topology document as a stream; of the bulk (parameters, communication objects, group addresses) nothing is
 * kept.
 * @throws InputError as {@link readXml}, and `invalid-value` for an address or id that is missing or impossible
 */
export async function readTopology(
  chunks: AsyncIterable<Uint8Array>,
  part: string,
  limits: Limits,
): Promise<TopologyDocument> {
  const collector = new TopologyCollector(part);
  const schema = await readXml(chunks, part, limits, collector);
  return { schema, installations: collector.installations };
}

/** Of the elements of a topology document these hold something for the audit; the bulk does not. */
const WANTED: ReadonlyMap<string, ReadonlySet<string>> = new Map([
  ['Installation', new Set(['Name'])],
  ['Area', new Set(['Id', 'Address', 'Name'])],
  ['Line', new Set(['Id', 'Address', 'Name', 'MediumTypeRefId'])],
  ['Segment', new Set(['Id', 'Number', 'Name', 'MediumTypeRefId'])],
  [
    'DeviceInstance',
    new Set(['Id', 'Address', 'Name', 'ProductRefId', 'IndividualAddressLoaded', 'ApplicationProgramLoaded']),
  ],
  ['Address', new Set(['Address'])],
  ['Space', new Set(['Name', 'Type'])],
  ['BuildingPart', new Set(['Name', 'Type'])],
  ['DeviceInstanceRef', new Set(['RefId'])],
]);

type Building<T> = { -readonly [K in keyof T]: T[K] extends readonly (infer E)[] ? E[] : T[K] };
type OpenInstallation = Omit<Building<InstallationRecord>, 'number' | 'places'> & { places: Map<string, PlaceRecord> };

class TopologyCollector implements ElementHandler {
  readonly wanted = WANTED;
  readonly installations: OpenInstallation[] = [];
  #installation: OpenInstallation | undefined;
  #area: Building<AreaRecord> | undefined;
  #line: Building<LineRecord> | undefined;
  #segment: Building<SegmentRecord> | undefined;
  #device: Building<DeviceRecord> | undefined;
  #place: PlaceRecord | undefined;
  readonly #ids = new Set<string>();

  constructor(readonly part: string) {}

  open(name: string, attributes: Attributes, context: ElementContext): void {
    switch (name) {
      case 'Installation':
        if (context.parent === 'Installations') this.#openInstallation(attributes);
        break;
      case 'Area':
        if (context.parent === 'Topology' && this.#installation) this.#openArea(attributes, context);
        break;
      case 'Line':
        if (context.parent === 'Area' && this.#area) this.#openLine(attributes, context);
        break;
      case 'Segment':
        if (context.parent === 'Line' && this.#line) this.#openSegment(attributes, context);
        break;
      case 'DeviceInstance':
        this.#openDevice(attributes, context);
        break;
      case 'Address':
        if (context.parent === 'AdditionalAddresses') this.#additionalAddress(attributes, context);
        break;
      case 'Space':
      case 'BuildingPart':
        this.#place = { name: kept(attributes.Name) ?? '', type: kept(attributes.Type), parent: this.#place };
        break;
      case 'DeviceInstanceRef':
        this.#placeDevice(attributes, context);
        break;
    }
  }

  close(name: string): void {
    switch (name) {
      case 'Installation':
        this.#installation = undefined;
        break;
      case 'Area':
        this.#area = undefined;
        break;
      case 'Line':
        this.#line = undefined;
        break;
      case 'Segment':
        this.#segment = undefined;
        break;
      case 'DeviceInstance':
        this.#device = undefined;
        break;
      case 'Space':
      case 'BuildingPart':
        this.#place = this.#place?.parent;
        break;
    }
  }

  #openInstallation({ Name }: Attributes): void {
    const { part } = this;
    this.#installation = { part, name: kept(Name), areas: [], unassigned: [], places: new Map() };
    this.installations.push(this.#installation);
  }

  #openArea(attributes: Attributes, context: ElementContext): void {
    const address = this.#number('Area', attributes, 'Address', 15, context);
    this.#area = { id: this.#id('Area', attributes, context), address, name: kept(attributes.Name), lines: [] };
    this.#installation?.areas.push(this.#area);
  }

  #openLine(attributes: Attributes, context: ElementContext): void {
    this.#line = {
      id: this.#id('Line', attributes, context),
      address: this.#number('Line', attributes, 'Address', 15, context),
      name: kept(attributes.Name),
      medium: kept(attributes.MediumTypeRefId),
      segments: [],
      devices: [],
      sourceLine: context.line,
    };
    this.#area?.lines.push(this.#line);
  }

  #openSegment(attributes: Attributes, context: ElementContext): void {
    this.#segment = {
      id: this.#id('Segment', attributes, context),
      number:
        attributes.Number === undefined ? 0 : this.#number('Segment', attributes, 'Number', MOST_SEGMENTS, context),
      name: kept(attributes.Name),
      medium: kept(attributes.MediumTypeRefId),
      devices: [],
      sourceLine: context.line,
    };
    this.#line?.segments.push(this.#segment);
  }

  #openDevice(attributes: Attributes, context: ElementContext): void {
    const devices = this.#devicesOf(context.parent);
    if (devices === undefined) return;
    const id = this.#id('DeviceInstance', attributes, context);
    const hasAddress = kept(attributes.Address) !== undefined;
    this.#device = {
      id,
      address: hasAddress ? this.#number('DeviceInstance', attributes, 'Address', 255, context) : undefined,
      name: kept(attributes.Name),
      productRef: kept(attributes.ProductRefId),
      isLoaded: loadedOf(attributes),
      additionalAddresses: [],
      sourceLine: context.line,
    };
    devices.push(this.#device);
  }

  /** A device on nothing that is a segment or a line is unassigned, wherever it stands: none gets lost. */
  #devicesOf(parent: string): DeviceRecord[] | undefined {
    const carrier = parent === 'Segment' ? this.#segment : parent === 'Line' ? this.#line : undefined;
    return (carrier ?? { devices: this.#installation?.unassigned }).devices;
  }

  #additionalAddress(attributes: Attributes, context: ElementContext): void {
    if (kept(attributes.Address) === undefined) return;
    this.#device?.additionalAddresses.push(this.#number('Address', attributes, 'Address', 255, context));
  }

  #placeDevice({ RefId }: Attributes, { parent }: ElementContext): void {
    if (this.#place === undefined || RefId === undefined) return;
    if (parent === 'Space' || parent === 'BuildingPart') this.#installation?.places.set(RefId, this.#place);
  }

  #id(element: string, { Id }: Attributes, context: ElementContext): string {
    const id = kept(Id);
    if (id === undefined) throw this.#invalid(`${element} has no Id`, context);
    const before = this.#ids.size;
    if (this.#ids.add(id).size > before) return id;
    throw this.#invalid(`the Id ${quoted(id)} of ${element} is used twice`, context);
  }

  #number(element: string, attributes: Attributes, name: string, most: number, context: ElementContext): number {
    const text = attributes[name]?.trim() ?? '';
    const value = /^\+?[0-9]{1,6}$/.test(text) ? Number(text) : Number.NaN;
    if (value <= most) return value;
    const id = attributes.Id === undefined ? '' : ` ${quoted(attributes.Id)}`;
    throw this.#invalid(`${name} of ${element}${id} is ${quoted(text)}, not a whole number from 0 to ${most}`, context);
  }

  #invalid(detail: string, { line }: ElementContext): InputError {
    return new InputError('invalid-value', detail, { part: this.part, line });
  }
}

/** No standard bound is known for the number of a segment; this one only keeps nonsense out. */
const MOST_SEGMENTS = 65_535;

/** A device has been on the bus once its address or its program was loaded into it; undefined where nothing says so. */
function loadedOf({ IndividualAddressLoaded, ApplicationProgramLoaded }: Attributes): boolean | undefined {
  const marks = [IndividualAddressLoaded, ApplicationProgramLoaded].filter((mark) => mark !== undefined);
  return marks.length === 0 ? undefined : marks.some((mark) => /^\s*(1|true)\s*$/i.test(mark));
}

/** An attribute's text, without surrounding blanks, or undefined where there is none. */
function kept(text: string | undefined): string | undefined {
  const trimmed = text?.trim();
  return trimmed === undefined || trimmed === '' ? undefined : trimmed;
}
