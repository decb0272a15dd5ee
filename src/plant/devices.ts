import type { DeviceRecord, PlaceRecord, ProductRecord } from '../interchange/records.js';
import type { Device, Product, Role } from './plant.js';

/** Where a device record stands, and what is known around it. */
export interface DeviceContext {
  /** area.line of the line that it stands on, null if on none. */
  readonly line: string | null;
  readonly products: ReadonlyMap<string, ProductRecord>;
  readonly places: ReadonlyMap<string, PlaceRecord>;
  readonly manufacturers: ReadonlyMap<string, string>;
}

export function toDevice(record: DeviceRecord, context: DeviceContext): Device {
  const product = record.productRef === undefined ? undefined : context.products.get(record.productRef);
  const role = roleOf(record, product);
  const onLine = (address: number) => `${context.line}.${address}`;
  const isAddressed = context.line !== null && record.address !== undefined;
  return {
    id: record.id,
    address: isAddressed ? onLine(record.address as number) : null,
    name: record.name ?? product?.name ?? product?.hardware.name ?? '',
    product: product ? toProduct(product, context.manufacturers) : null,
    productRef: record.productRef ?? null,
    role,
    isIpEnabled: product?.hardware.isIpEnabled ?? false,
    participates: participates(role, product),
    location: locationOf(context.places.get(record.id)),
    additionalAddresses: context.line === null ? [] : record.additionalAddresses.map(onLine),
  };
}

function toProduct(
  { id, name, orderNumber, manufacturer, hardware }: ProductRecord,
  makers: ReadonlyMap<string, string>,
): Product {
  return {
    id,
    name: name ?? hardware.name ?? id,
    orderNumber: orderNumber ?? null,
    manufacturer: makers.get(manufacturer) ?? manufacturer,
    declared: hardware.busCurrent ?? null,
  };
}

/** A product that nobody knows is a coupler at address 0, since nothing else stands there; else it draws like any. */
function roleOf({ address }: DeviceRecord, product: ProductRecord | undefined): Role {
  if (product === undefined) return address === 0 ? 'coupler' : 'consumer';
  const { hardware } = product;
  if (hardware.isPowerSupply) return hardware.isCoupler ? 'supply and coupler' : 'supply';
  if (hardware.isAccessory) return 'accessory';
  if (hardware.isCable) return 'cable';
  if (hardware.isChoke) return 'choke';
  if (hardware.isCoupler && address === 0) return 'coupler';
  if (hardware.isCoupler && !hardware.isIpEnabled) return 'repeater';
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

function locationOf(place: PlaceRecord | undefined): string | null {
  const names: string[] = [];
  for (let at = place; at !== undefined; at = at.parent) if (at.name !== '') names.unshift(at.name);
  return names.length === 0 ? null : names.join(' / ');
}
