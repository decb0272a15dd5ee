import { z } from 'zod';
import type { Archive, Part } from '../archive/archive.js';
import { InputError, quoted } from '../errors.js';
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
  #hardware: HardwareRecord | undefined;

  constructor(readonly part: string) {}

  open(name: string, attributes: Attributes, { parent, depth, line }: ElementContext): void {
    const place = { part: this.part, line };
    if (name === 'Manufacturer' && parent === 'ManufacturerData') {
      this.#manufacturer = checked(manufacturerShape, attributes, name, place).RefId;
    } else if (name === 'Hardware' && parent === 'Hardware') {
      this.#hardware = checked(hardwareShape, attributes, name, place);
    } else if (name === 'Product' && parent === 'Products' && depth === PRODUCT_DEPTH && this.#hardware !== undefined) {
      const { Id: id, Text, OrderNumber } = checked(productShape, attributes, name, place);
      this.products.push({
        id,
        name: Text,
        orderNumber: OrderNumber,
        manufacturer: this.#manufacturer,
        hardware: this.#hardware,
      });
    }
  }

  close(name: string): void {
    if (name === 'Hardware') this.#hardware = undefined;
  }
}

/** The products of several documents by id. One id for two different products would make the audit guess. */
export function indexProducts(products: readonly ProductRecord[]): Map<string, ProductRecord> {
  const index = new Map<string, ProductRecord>();
  for (const product of products) {
    const other = index.get(product.id);
    if (other !== undefined && JSON.stringify(other) !== JSON.stringify(product)) {
      throw new InputError('invalid-value', `the product Id ${quoted(product.id)} stands for two different products`);
    }
    index.set(product.id, product);
  }
  return index;
}
