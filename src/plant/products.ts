import type { HardwareRecord, ProductRecord, ProjectRecord } from '../interchange/records.js';
import { OverrideIndex, type ProductKind, type ProductOverride } from '../policy/overrides.js';
import type { Policy } from '../policy/policy.js';
import { currentOf } from './current.js';
import type { Current, Product } from './plant.js';

/** What is known of a product, by the archive and by the policy. */
export interface KnownProduct {
  /** What it is taken for; undefined where nobody says it. */
  readonly effective: ProductRecord | undefined;
  /** As the archive describes it; null where it does not. */
  readonly product: Product | null;
  readonly override: ProductOverride | null;
  /** What a participant of this product draws on its own segment. */
  readonly current: Current;
}

/** The products of a project, each looked up once: thousands of devices share a few. */
export class ProductIndex {
  readonly #known = new Map<string, KnownProduct>();
  readonly #overrides: OverrideIndex;

  constructor(
    readonly project: ProjectRecord,
    readonly policy: Policy,
  ) {
    this.#overrides = new OverrideIndex(policy.products);
  }

  /** @param ref the product's id, as a device names it */
  get(ref: string | undefined): KnownProduct {
    const key = ref ?? '';
    const known = this.#known.get(key) ?? this.#lookUp(key);
    this.#known.set(key, known);
    return known;
  }

  #lookUp(ref: string): KnownProduct {
    const record = this.project.products.get(ref);
    const override = ref === '' ? null : this.#overrides.find({ id: ref, orderNumber: record?.orderNumber ?? null });
    const product = record === undefined ? null : toProduct(record, this.project.names);
    const effective = override?.kind === undefined ? record : ofKind(record ?? unknownProduct(ref), override.kind);
    return { effective, product, override, current: currentOf({ product, override }, this.policy) };
  }
}

/** A product as the plant shows it. */
function toProduct(
  { id, name, orderNumber, manufacturer, hardware, place }: ProductRecord,
  makers: ReadonlyMap<string, string>,
): Product {
  return {
    id,
    name: name ?? hardware.name ?? id,
    orderNumber: orderNumber ?? null,
    manufacturer: makers.get(manufacturer) ?? manufacturer,
    declared: hardware.busCurrent ?? null,
    place,
  };
}

const PLAIN_HARDWARE: Omit<HardwareRecord, 'id' | 'name' | 'busCurrent' | 'isIpEnabled'> = {
  hasIndividualAddress: true,
  hasApplicationProgram: false,
  isAccessory: false,
  isPowerSupply: false,
  isChoke: false,
  isCoupler: false,
  isCable: false,
};

/** A product that the archive does not hold. */
function unknownProduct(id: string): ProductRecord {
  const hardware = { ...PLAIN_HARDWARE, id: '', name: undefined, busCurrent: undefined, isIpEnabled: false };
  return { id, name: undefined, orderNumber: undefined, manufacturer: '', hardware, place: {} };
}

/** A product as if its hardware said that it is of a kind. */
function ofKind(record: ProductRecord, kind: ProductKind): ProductRecord {
  const { id, name, busCurrent, isIpEnabled, hasApplicationProgram } = record.hardware;
  const same = { id, name, busCurrent, isIpEnabled };
  const hardware: { readonly [kind in ProductKind]: HardwareRecord } = {
    consumer: { ...PLAIN_HARDWARE, ...same, hasApplicationProgram },
    coupler: { ...PLAIN_HARDWARE, ...same, hasApplicationProgram, isCoupler: true },
    supply: { ...PLAIN_HARDWARE, ...same, hasApplicationProgram, isPowerSupply: true },
    passive: { ...PLAIN_HARDWARE, ...same, busCurrent: undefined, hasIndividualAddress: false },
  };
  return { ...record, hardware: hardware[kind] };
}
