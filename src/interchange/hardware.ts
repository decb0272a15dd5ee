import type { Archive, Part } from '../archive/archive.js';
import { InputError, quoted } from '../errors.js';
import type { Limits } from '../limits.js';
import type { ProductRecord } from './records.js';
import { children, element, flag, readTree, requiredText, text } from './tree.js';

const productShape = element({ '@Id': requiredText, '@Text': text, '@OrderNumber': text });

const isSet = flag.transform((value) => value ?? false);

const hardwareShape = element({
  '@Id': requiredText,
  '@Name': text,
  '@BusCurrent': text,
  '@HasIndividualAddress': flag,
  '@HasApplicationProgram': isSet,
  '@IsAccessory': isSet,
  '@IsPowerSupply': isSet,
  '@IsChoke': isSet,
  '@IsCoupler': isSet,
  '@IsCable': isSet,
  '@IsIPEnabled': isSet,
  Products: children(element({ Product: children(productShape) })),
});

const documentShape = element({
  ManufacturerData: children(
    element({
      Manufacturer: children(
        element({ '@RefId': requiredText, Hardware: children(element({ Hardware: children(hardwareShape) })) }),
      ),
    }),
  ),
});

/** Reads the products that a maker's hardware document describes. */
export async function readHardware(archive: Archive, part: Part, limits: Limits): Promise<ProductRecord[]> {
  const { ManufacturerData } = await readTree(archive, part, limits, documentShape);
  const manufacturers = ManufacturerData.flatMap(({ Manufacturer }) => Manufacturer);
  return manufacturers.flatMap((manufacturer) =>
    manufacturer.Hardware.flatMap(({ Hardware }) => Hardware).flatMap((hardware) =>
      productsOf(hardware, manufacturer['@RefId']),
    ),
  );
}

function productsOf(source: (typeof hardwareShape)['_output'], manufacturer: string): ProductRecord[] {
  const hardware = {
    id: source['@Id'],
    name: source['@Name'],
    busCurrent: source['@BusCurrent'],
    hasIndividualAddress: source['@HasIndividualAddress'],
    hasApplicationProgram: source['@HasApplicationProgram'],
    isAccessory: source['@IsAccessory'],
    isPowerSupply: source['@IsPowerSupply'],
    isChoke: source['@IsChoke'],
    isCoupler: source['@IsCoupler'],
    isCable: source['@IsCable'],
    isIpEnabled: source['@IsIPEnabled'],
  };
  return source.Products.flatMap(({ Product }) => Product).map((product) => ({
    id: product['@Id'],
    name: product['@Text'],
    orderNumber: product['@OrderNumber'],
    manufacturer,
    hardware,
  }));
}

/** The products of several documents by id. One id for two different products would make the audit guess. */
export function indexProducts(products: readonly ProductRecord[], part: Part | undefined): Map<string, ProductRecord> {
  const index = new Map<string, ProductRecord>();
  for (const product of products) {
    const other = index.get(product.id);
    if (other !== undefined && JSON.stringify(other) !== JSON.stringify(product)) {
      throw new InputError('invalid-value', `the product Id ${quoted(product.id)} stands for two different products`, {
        part: part?.name,
      });
    }
    index.set(product.id, product);
  }
  return index;
}
