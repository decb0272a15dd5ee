import { XMLParser } from 'fast-xml-parser';
import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { readHardware } from '../../src/interchange/hardware.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { fixtureArchive, fixtureParts } from '../support/archives.js';

/**
 * The products of every fixture's hardware documents, read by a general-purpose tree parser of the registry
 * (fast-xml-parser) and by the stream reader.
 */
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseAttributeValue: false,
  isArray: (_name, _path, _isLeaf, isAttribute) => !isAttribute,
});

interface Element {
  readonly [name: string]: string | readonly Element[];
}

const all = (parents: readonly Element[], name: string): Element[] =>
  parents.flatMap((parent) => (parent[name] ?? []) as readonly Element[]);

function productsByTree(document: Buffer): (readonly unknown[])[] {
  const root = all([parser.parse(document) as Element], 'KNX');
  const makers = all(all(root, 'ManufacturerData'), 'Manufacturer');
  return makers.flatMap((maker) =>
    all(all([maker], 'Hardware'), 'Hardware').flatMap((hardware) =>
      all(all([hardware], 'Products'), 'Product').map((product) => [
        maker.RefId,
        hardware.Id,
        hardware.BusCurrent || undefined,
        [hardware.IsPowerSupply, hardware.IsCoupler, hardware.IsChoke].map((flag) => flag === '1' || flag === 'true'),
        product.Id,
        product.Text,
        product.OrderNumber,
      ]),
    ),
  );
}

test.each(['house', 'repeaters', 'school', 'twin-new', 'twin-old'])('%s', async (fixture) => {
  const archive = Archive.open(await fixtureArchive(fixture), DEFAULT_LIMITS);
  const documents = archive.parts.filter(({ path }) => path.endsWith('/hardware.xml'));
  expect(documents).not.toEqual([]);
  for (const part of documents) {
    const products = await readHardware(archive, part, DEFAULT_LIMITS);
    const found = products.map(({ manufacturer, hardware, id, name, orderNumber }) => [
      manufacturer,
      hardware.id,
      hardware.busCurrent,
      [hardware.isPowerSupply, hardware.isCoupler, hardware.isChoke],
      id,
      name,
      orderNumber,
    ]);
    expect(found).toEqual(productsByTree(fixtureParts(fixture)[part.name] as Buffer));
  }
});
