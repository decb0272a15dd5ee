import { z } from 'zod';
import type { Archive, Part } from '../archive/archive.js';
import { InputError, type InputPlace, quoted } from '../errors.js';
import type { Limits } from '../limits.js';
import { checked, flag, isSet, requiredText, text } from './attributes.js';
import type { HardwareRecord, ProductRecord } from './records.js';
import { type Attributes, type ElementContext, type ElementHandler, readXml } from './xml/reader.js';

const manufacturerShape = z.object({ RefId: requiredText });

const hardwareAttributes = z.object({
  Id: requiredText,
  Name: text,
  BusCurrent: text,
  HasIndividualAddress: flag,
  HasApplicationProgram: isSet,
  IsAccessory: isSet,
  IsPowerSupply: isSet,
  IsChoke: isSet,
  IsCoupler: isSet,
  IsCable: isSet,
  IsIPEnabled: isSet,
});

const hardwareShape = hardwareAttributes.transform(
  (source): HardwareRecord => ({
    id: source.Id,
    name: source.Name,
    busCurrent: source.BusCurrent,
    hasIndividualAddress: source.HasIndividualAddress,
    hasApplicationProgram: source.HasApplicationProgram,
    isAccessory: source.IsAccessory,
    isPowerSupply: source.IsPowerSupply,
    isChoke: source.IsChoke,
    isCoupler: source.IsCoupler,
    isCable: source.IsCable,
    isIpEnabled: source.IsIPEnabled,
  }),
);

const productShape = z.object({ Id: requiredText, Text: text, OrderNumber: text });

const WANTED: ReadonlyMap<string, ReadonlySet<string>> = new Map(
  Object.entries({ Manufacturer: manufacturerShape, Hardware: hardwareAttributes, Product: productShape }).map(
    ([name, { shape }]) => [name, new Set(Object.keys(shape))],
  ),
);

/** Reads the products that a maker's hardware document describes. */
export async function readHardware(archive: Archive, part: Part, limits: Limits): Promise<ProductRecord[]> {
  const collector = new ProductCollector(part.name);
  await readXml(archive.stream(part), part.name, limits, collector);
  return collector.products;
}

/** KNX/ManufacturerData/Manufacturer/Hardware/Hardware/Products/Product */
const PRODUCT_DEPTH = 7;

class ProductCollector implements ElementHandler {
  readonly wanted = WANTED;
  readonly products: ProductRecord[] = [];
  #manufacturer = '';
  /** What each open element Hardware describes; the outermost is the list of them, and describes nothing. */
  readonly #hardware: (HardwareRecord | undefined)[] = [];

  constructor(readonly part: string) {}

  open(name: string, attributes: Attributes, { parent, depth, line }: ElementContext): void {
    const place = { part: this.part, line };
    if (name === 'Manufacturer' && parent === 'ManufacturerData') {
      this.#manufacturer = checked(manufacturerShape, attributes, name, place).RefId;
    } else if (name === 'Hardware') {
      this.#hardware.push(parent === 'Hardware' ? checked(hardwareShape, attributes, name, place) : undefined);
    } else if (name === 'Product' && parent === 'Products' && depth === PRODUCT_DEPTH) {
      this.#addProduct(attributes, place);
    }
  }

  close(name: string): void {
    if (name === 'Hardware') this.#hardware.pop();
  }

  #addProduct(attributes: Attributes, place: InputPlace): void {
    const hardware = this.#hardware.at(-1);
    if (hardware === undefined) return;
    const { Id: id, Text, OrderNumber } = checked(productShape, attributes, 'Product', place);
    this.products.push({ id, name: Text, orderNumber: OrderNumber, manufacturer: this.#manufacturer, hardware, place });
  }
}

/** Adds the products of a part to those of others, by id. One id for two different products would make the audit guess. */
export function addProducts(index: Map<string, ProductRecord>, products: readonly ProductRecord[], part: string): void {
  for (const product of products) {
    const other = index.get(product.id);
    if (other !== undefined && !isSame(other, product)) {
      const detail = `the product Id ${quoted(product.id)} stands for two different products`;
      throw new InputError('invalid-value', detail, { part });
    }
    index.set(product.id, product);
  }
}

/** Whether two products say the same, field by field: an archive may repeat one very often, so nothing is written out. */
function isSame({ hardware, place, ...own }: ProductRecord, other: ProductRecord): boolean {
  return agree(own, other) && (hardware === other.hardware || agree(hardware, other.hardware));
}

/** Whether a record of plain values agrees with another of its kind. */
function agree<T extends object>(values: T, other: T): boolean {
  for (const name in values) if (values[name] !== other[name]) return false;
  return true;
}
