import type {
  AreaRecord,
  DeviceRecord,
  InstallationRecord,
  LineRecord,
  PlaceRecord,
  ProjectRecord,
  SegmentRecord,
} from '../interchange/records.js';
import { firstSegments } from './checks.js';
import type { Plan, PlannedDevices, PlannedLine } from './plan-shape.js';
import { IP_COUPLER, LINE_COUPLER, PLAN_PART, PlannedProducts, plannedSupply, REPEATER } from './products.js';

/**
 * A plan as the records that an export of it would give: everything from the plant on is the same. Ids are made of line,
 * segment and name, so that they outlast another order of the plan.
 */
export function recordsOf(plan: Plan): ProjectRecord {
  const builder = new RecordBuilder(plan);
  const areas = builder.areas();
  const installation: InstallationRecord = {
    part: PLAN_PART,
    number: 0,
    name: undefined,
    areas,
    unassigned: [],
    places: builder.places,
  };
  return {
    id: PLAN_PART,
    name: plan.project,
    schema: null,
    installations: [installation],
    products: builder.products.records,
    names: new Map(),
  };
}

/** The last device address of a line; repeaters take addresses from there down, so that no other coupler is taken for the line's. */
const LAST_ADDRESS = 255;

/** The medium of every line of a plan, by the id of the standard's master data: what is planned here is its power. */
const TWISTED_PAIR = 'MT-0';

/** A line of the plan and where it stands. */
interface Placed extends PlannedLine {
  readonly index: number;
}

class RecordBuilder {
  readonly products = new PlannedProducts();
  readonly places = new Map<string, PlaceRecord>();
  readonly #rooms = new Map<string, PlaceRecord>();
  readonly #first: ReadonlyMap<string, number>;
  readonly #lines: readonly string[];

  constructor(readonly plan: Plan) {
    this.#first = firstSegments(plan.lines);
    this.#lines = [...this.#first.keys()];
  }

  areas(): AreaRecord[] {
    const lines = this.#lines.map((line) => ({ numbers: numbersOf(line), record: this.#line(line) }));
    const areas = [...new Set(lines.map(({ numbers }) => numbers.area))].sort((a, b) => a - b);
    return areas.map((address) => ({
      id: `area ${address}`,
      address,
      name: undefined,
      lines: lines
        .filter(({ numbers }) => numbers.area === address)
        .map(({ record }) => record)
        .sort((a, b) => a.address - b.address),
    }));
  }

  #line(line: string): LineRecord {
    const parts = this.plan.lines
      .map((one, index): Placed => ({ ...one, index }))
      .filter((one) => one.line === line)
      .sort((a, b) => a.segment - b.segment);
    const [first] = parts;
    return {
      id: `line ${line}`,
      address: numbersOf(line).line,
      name: first?.name,
      medium: TWISTED_PAIR,
      segments: parts.map((part, position) => this.#segment(part, position)),
      devices: [],
      sourceLine: this.plan.lineOf(['lines', first?.index ?? 0, 'line']),
    };
  }

  #segment(part: Placed, position: number): SegmentRecord {
    const id = `${part.line} segment ${part.segment}`;
    const sourceLine = this.plan.lineOf(['lines', part.index, 'line']);
    return {
      id,
      number: part.segment,
      name: part.name,
      medium: undefined,
      devices: [...this.#sources(part, id, sourceLine, position), ...this.#devices(part, id)],
      sourceLine,
    };
  }

  /** Supplies and couplers; their ids end in a bracket, so that no device has one of them. */
  #sources(part: Placed, segment: string, sourceLine: number, position: number): DeviceRecord[] {
    const supplies = [part.supply ?? []].flat().map((ua, index) => {
      const productRef = this.products.add(plannedSupply(ua, sourceLine));
      return deviceRecord(`${segment} (supply ${index + 1})`, { name: `supply ${index + 1}`, productRef, sourceLine });
    });
    const coupler = this.#couplerOf(part);
    if (coupler === null) return supplies;
    const address = coupler === REPEATER ? LAST_ADDRESS + 1 - position : 0;
    const productRef = this.products.add({ ...coupler, line: sourceLine });
    return [deviceRecord(`${segment} (coupler)`, { name: coupler.what, productRef, sourceLine, address }), ...supplies];
  }

  #couplerOf({ line, segment, coupler }: PlannedLine) {
    if (coupler === 'none') return null;
    if (this.#first.get(line) !== segment) return REPEATER;
    if (coupler === 'IP') return IP_COUPLER;
    return coupler === 'line' || needsCoupler(line, this.#lines) ? LINE_COUPLER : null;
  }

  #devices({ devices, index }: Placed, segment: string): DeviceRecord[] {
    const counted = new Map<string, number>();
    return devices.flatMap((entry, position) => {
      const sourceLine = this.plan.lineOf(['lines', index, 'devices', position]);
      const { what, count, orderNumber, current } = entry;
      const productRef = this.products.add({ what, orderNumber, currentUa: current, line: sourceLine });
      const before = counted.get(what) ?? 0;
      counted.set(what, before + count);
      return Array.from({ length: count }, (_, offset) => {
        const name = `${what} ${before + offset + 1}`;
        const record = deviceRecord(`${segment} ${name}`, { name, productRef, sourceLine });
        this.#place(record.id, entry);
        return record;
      });
    });
  }

  #place(device: string, { location }: PlannedDevices): void {
    if (location === undefined) return;
    const room = this.#rooms.get(location) ?? { name: location, type: undefined, parent: undefined };
    this.#rooms.set(location, room);
    this.places.set(device, room);
  }
}

type Said = Pick<DeviceRecord, 'name' | 'productRef' | 'sourceLine'> & { readonly address?: number };

function deviceRecord(id: string, { name, productRef, sourceLine, address }: Said): DeviceRecord {
  return { id, address, name, productRef, isLoaded: undefined, additionalAddresses: [], sourceLine };
}

function numbersOf(address: string): { readonly area: number; readonly line: number } {
  const [area = 0, line = 0] = address.split('.').map(Number);
  return { area, line };
}

/** A line next to others, a main line next to other areas; the backbone never. As the rule coupler-missing has it. */
function needsCoupler(address: string, lines: readonly string[]): boolean {
  const { area, line } = numbersOf(address);
  if (line > 0) return lines.length > 1;
  return area > 0 && new Set(lines.map((one) => numbersOf(one).area)).size > 1;
}
