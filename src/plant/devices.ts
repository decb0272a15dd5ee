import type { DeviceRecord, PlaceRecord, ProductRecord } from '../interchange/records.js';
import type { Device, Role } from './plant.js';
import type { KnownProduct } from './products.js';

/** What a device's part on its line depends on. */
export interface LineContext {
  /** area.line */
  readonly address: string;
  /** A coupler stands at device address 0, so that no other one is the line's. */
  readonly hasCoupler: boolean;
}

/** Where a device record stands, and what is known around it. */
export interface DeviceContext {
  /** The line that it stands on, null if on none. */
  readonly line: LineContext | null;
  readonly places: ReadonlyMap<string, PlaceRecord>;
  readonly known: KnownProduct;
  readonly locationOf: (place: PlaceRecord) => string | null;
}

export function toDevice(record: DeviceRecord, { line, places, known, locationOf }: DeviceContext): Device {
  const { effective, product, override } = known;
  const joins = line === null ? null : joinsOf(record, effective, line.hasCoupler);
  const role = roleOf(joins, effective);
  const place = places.get(record.id);
  return {
    id: record.id,
    address: line === null || record.address === undefined ? null : `${line.address}.${record.address}`,
    name: record.name ?? product?.name ?? '',
    product,
    productRef: record.productRef ?? null,
    role,
    joins,
    isIpEnabled: effective?.hardware.isIpEnabled ?? false,
    participates: participates(role, effective),
    location: place ? locationOf(place) : null,
    additionalAddresses: record.additionalAddresses.length === 0 ? NONE : addressesOn(line, record),
    override,
    isLoaded: record.isLoaded ?? null,
    sourceLine: record.sourceLine,
  };
}

const NONE: readonly string[] = [];

function addressesOn(line: LineContext | null, { additionalAddresses }: DeviceRecord): readonly string[] {
  return line === null ? NONE : additionalAddresses.map((address) => `${line.address}.${address}`);
}

/** Whether a device is the coupler of its line: at address 0 a coupler, or a product that nobody knows. */
export function isCouplerAtZero({ address }: DeviceRecord, product: ProductRecord | undefined): boolean {
  return address === 0 && (product === undefined || isCoupler(product));
}

function isCoupler({ hardware }: ProductRecord): boolean {
  const isOther = hardware.isAccessory || hardware.isCable || hardware.isChoke;
  return hardware.isCoupler && (hardware.isPowerSupply || !isOther);
}

/**
 * A coupler that has no address yet is its line's where the line has no other; any further one joins segments of the
 * line (a repeater), unless its other side is IP.
 */
function joinsOf(record: DeviceRecord, product: ProductRecord | undefined, lineHasCoupler: boolean): Device['joins'] {
  if (isCouplerAtZero(record, product)) return 'line above';
  if (product === undefined || !isCoupler(product)) return null;
  if (record.address === undefined && !lineHasCoupler) return 'line above';
  return product.hardware.isIpEnabled ? null : 'other segment';
}

function roleOf(joins: Device['joins'], product: ProductRecord | undefined): Role {
  if (product === undefined) return joins === null ? 'consumer' : 'coupler';
  const { hardware } = product;
  if (hardware.isPowerSupply) return hardware.isCoupler ? 'supply and coupler' : 'supply';
  if (hardware.isAccessory) return 'accessory';
  if (hardware.isCable) return 'cable';
  if (hardware.isChoke) return 'choke';
  if (joins !== null) return joins === 'line above' ? 'coupler' : 'repeater';
  return isPassive(product) ? 'passive part' : 'consumer';
}

const NEVER_DRAWS: ReadonlySet<Role> = new Set(['supply', 'supply and coupler', 'accessory', 'cable']);

function participates(role: Role, product: ProductRecord | undefined): boolean {
  return !NEVER_DRAWS.has(role) && !(product !== undefined && isPassive(product));
}

/** Known to be none of the bus: neither address nor program, and no current. What is not known does not count. */
function isPassive({ hardware }: ProductRecord): boolean {
  return (
    hardware.hasIndividualAddress === false && !hardware.hasApplicationProgram && hardware.busCurrent === undefined
  );
}

/**
 * The names of the places that a device stands in, from the outermost on; null if none has one.
 * @param around the same of the place that this one is in: a place deep down costs no more memory than its own name
 */
export function locationOf({ name }: PlaceRecord, around: string | null): string | null {
  if (name === '') return around;
  return around === null ? name : `${around} / ${name}`;
}
