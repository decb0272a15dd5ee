import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { addProducts, readHardware } from '../../src/interchange/hardware.js';
import type { HardwareRecord, ProductRecord } from '../../src/interchange/records.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { zip } from '../support/archives.js';
import { countLooks } from '../support/looks.js';
import { refusalOf } from '../support/refusal.js';
import { hardwareXml, knx, marked, topologyXml } from '../support/xml.js';

const PART = 'M-F0A1/Hardware.xml';

async function read(document: string): Promise<ProductRecord[]> {
  const archive = Archive.open(await zip({ [PART]: document }), DEFAULT_LIMITS);
  const [part] = archive.parts;
  if (part === undefined) throw new Error('a part was written');
  return readHardware(archive, part, DEFAULT_LIMITS);
}

const PRODUCTS = '<Products><Product Id="P" Text="Push button" OrderNumber="PB1"/></Products>';

const hardware = (attributes: string, content = PRODUCTS) => `<Hardware Id="H" ${attributes}>${content}</Hardware>`;

async function hardwareOf(attributes: string, content = PRODUCTS): Promise<HardwareRecord | undefined> {
  return (await read(hardwareXml(hardware(attributes, content))))[0]?.hardware;
}

const lineOf = (document: string, what: string) => document.slice(0, document.indexOf(what)).split('\n').length;

const SILENT: HardwareRecord = {
  id: 'H',
  name: undefined,
  busCurrent: undefined,
  hasIndividualAddress: undefined,
  hasApplicationProgram: false,
  isAccessory: false,
  isPowerSupply: false,
  isChoke: false,
  isCoupler: false,
  isCable: false,
  isIpEnabled: false,
};

const PRODUCT: ProductRecord = {
  id: 'P',
  name: 'Push button',
  orderNumber: 'PB1',
  manufacturer: 'M-F0A1',
  hardware: SILENT,
  place: { part: PART, line: 1 },
};

test('a product, with all that is read of it', async () => {
  const document = hardwareXml(
    hardware(
      `Name="Button" SerialNumber="B1" VersionNumber="2" BusCurrent="7.5" HasIndividualAddress="1" HasApplicationProgram="1"
       IsAccessory="0" IsPowerSupply="0" IsChoke="0" IsCoupler="0" IsPowerLineRepeater="1" IsCable="0" IsIPEnabled="1"`,
      `<Products><Product Id="P" Text="Push button" OrderNumber="PB1" IsRailMounted="0" WidthInMillimeter="70"/></Products>
       <Hardware2Programs><Hardware2Program Id="HP" MediumTypes="MT-0"/></Hardware2Programs>`,
    ),
  );
  expect(await read(document)).toEqual([
    {
      id: 'P',
      name: 'Push button',
      orderNumber: 'PB1',
      manufacturer: 'M-F0A1',
      hardware: {
        ...SILENT,
        name: 'Button',
        busCurrent: '7.5',
        hasIndividualAddress: true,
        hasApplicationProgram: true,
        isIpEnabled: true,
      },
      place: { part: PART, line: lineOf(document, '<Product ') },
    },
  ]);
});

test('what is not said is false, and whether it has an address is not known', async () => {
  expect(await hardwareOf('')).toEqual(SILENT);
});

describe('booleans', () => {
  const FLAGS = {
    HasIndividualAddress: 'hasIndividualAddress',
    HasApplicationProgram: 'hasApplicationProgram',
    IsAccessory: 'isAccessory',
    IsPowerSupply: 'isPowerSupply',
    IsChoke: 'isChoke',
    IsCoupler: 'isCoupler',
    IsCable: 'isCable',
    IsIPEnabled: 'isIpEnabled',
  } as const;
  const each = Object.entries(FLAGS);

  test.each(each)('%s', async (attribute, field) => {
    for (const yes of ['1', 'true'])
      expect(await hardwareOf(`${attribute}="${yes}"`)).toEqual({ ...SILENT, [field]: true });
    for (const no of ['0', 'false'])
      expect(await hardwareOf(`${attribute}="${no}"`)).toEqual({ ...SILENT, [field]: false });
    for (const empty of ['', ' ']) expect(await hardwareOf(`${attribute}="${empty}"`)).toEqual(SILENT);
  });

  test.each(each)('%s that is none', async (attribute) => {
    for (const none of ['yes', '2', '-1', 'null', 'tru', '01', '1.0', 'constructor', '__proto__']) {
      const refusal = await refusalOf(() => hardwareOf(`${attribute}="${none}"`));
      expect(refusal).toMatchObject({ code: 'invalid-value', place: { part: PART } });
      expect(refusal.message).toContain(attribute);
      expect(refusal.message).toContain(`"${none}"`);
    }
  });
});

test.each([
  ['5', '5'],
  ['7.5', '7.5'],
  ['-320', '-320'],
  ['0', '0'],
  [' 12 ', '12'],
  ['12,5', '12,5'],
  ['12 mA', '12 mA'],
  ['', undefined],
  ['  ', undefined],
])('the bus current is kept as written: "%s"', async (written, kept) => {
  expect((await hardwareOf(`BusCurrent="${written}"`))?.busCurrent).toBe(kept);
});

describe('names that mean something to the program', () => {
  test.each(['__proto__', 'constructor', 'prototype', 'hasOwnProperty', 'toString', 'valueOf', '__defineGetter__'])(
    'an element %s is passed over',
    async (name) => {
      const extra = `<${name} IsCoupler="1" BusCurrent="9"><Product Id="Q"/></${name}>`;
      expect(await hardwareOf('BusCurrent="5"', PRODUCTS + extra)).toEqual({ ...SILENT, busCurrent: '5' });
      expect(({} as Record<string, unknown>).IsCoupler).toBeUndefined();
    },
  );

  test('so is an attribute', async () => {
    const attributes = '__proto__="1" constructor="2" toString="3" hasOwnProperty="4" BusCurrent="5"';
    expect(await hardwareOf(attributes)).toEqual({ ...SILENT, busCurrent: '5' });
  });

  test('so are ids', async () => {
    const ids = ['__proto__', 'constructor', 'toString'];
    const products = ids.map((id) => `<Product Id="${id}"/>`).join('');
    const found = await read(hardwareXml(hardware('', `<Products>${products}</Products>`)));
    expect(found.map(({ id }) => id)).toEqual(ids);
    const index = new Map();
    addProducts(index, found, PART);
    expect([...index.keys()]).toEqual(ids);
  });
});

describe('what is passed over', () => {
  test.each([
    [
      'translations',
      '<Languages><Language Identifier="de-DE"><TranslationUnit RefId="P"><TranslationElement RefId="P"><Translation AttributeName="Text" Text="Taster"/></TranslationElement></TranslationUnit></Language></Languages>',
    ],
    ['what nobody knows', '<Extra><Products><Product Id="Q"/></Products></Extra>'],
    ['a comment', '<!-- <Products><Product Id="Q"/></Products> -->'],
    ['a CDATA section', '<![CDATA[<Products><Product Id="Q"/></Products>]]>'],
    ['an instruction', '<?print <Products><Product Id="Q"/></Products>?>'],
    ['a foreign element', '<x:Products xmlns:x="urn:x"><x:Product Id="Q" Text="No"/></x:Products>'],
    ['an element of another default namespace', '<Products xmlns="urn:x"><Product Id="Q"/></Products>'],
    ['one of ours inside a foreign one', '<x:A xmlns:x="urn:x"><Products><Product Id="Q"/></Products></x:A>'],
  ])('%s', async (_name, extra) => {
    const found = await read(hardwareXml(hardware('BusCurrent="5"', PRODUCTS + extra)));
    expect(found.map(({ id, name }) => [id, name])).toEqual([['P', 'Push button']]);
  });

  test('a foreign hardware does not stand beside ours', async () => {
    const foreign = hardware('BusCurrent="9"').replace('<Hardware ', '<Hardware xmlns="urn:x" ');
    const found = await read(hardwareXml(hardware('BusCurrent="5"') + foreign));
    expect(found.map(({ hardware: { busCurrent } }) => busCurrent)).toEqual(['5']);
  });

  test('an attribute of another namespace does not override ours', async () => {
    expect(await hardwareOf('BusCurrent="5" x:BusCurrent="99" xmlns:x="urn:x"')).toEqual({
      ...SILENT,
      busCurrent: '5',
    });
    expect(await hardwareOf('x:BusCurrent="99" xmlns:x="urn:x"')).toEqual(SILENT);
  });

  test('translations that are not well-formed are refused all the same', async () => {
    const { text, line } = marked(hardwareXml(hardware('', `${PRODUCTS}\n<Languages>\n<Language></Languages>¦`)));
    expect(await refusalOf(() => read(text))).toMatchObject({ code: 'malformed-xml', place: { part: PART, line } });
  });
});

describe('little to read', () => {
  test.each([
    ['nothing', knx('')],
    ['no maker', knx('<ManufacturerData/>')],
    ['a maker of nothing', knx('<ManufacturerData><Manufacturer RefId="M-F0A1"/></ManufacturerData>')],
    ['an empty list', hardwareXml('')],
    ['hardware without products', hardwareXml('<Hardware Id="H"/>')],
    ['an empty list of products', hardwareXml('<Hardware Id="H"><Products/></Hardware>')],
    ['text in place of elements', knx('<ManufacturerData>none</ManufacturerData>')],
  ])('%s', async (_name, document) => {
    expect(await read(document)).toEqual([]);
  });

  test('a product without text', async () => {
    const [product] = await read(hardwareXml(hardware('', '<Products><Product Id="P" Text=" "/></Products>')));
    expect(product).toMatchObject({ id: 'P', name: undefined, orderNumber: undefined });
  });

  test.each([
    ['Hardware', hardwareXml('<Hardware><Products/></Hardware>')],
    ['Product', hardwareXml(hardware('', '<Products><Product/></Products>'))],
    ['Product, an empty one', hardwareXml(hardware('', '<Products><Product Id=" "/></Products>'))],
    ['Manufacturer', knx('<ManufacturerData><Manufacturer/></ManufacturerData>')],
  ])('an id that is missing: %s', async (_name, document) => {
    expect(await refusalOf(() => read(document))).toMatchObject({ code: 'invalid-value', place: { part: PART } });
  });
});

describe('one product Id', () => {
  const archiveOf = (first: string, second: string) =>
    zip({
      'P-0001/0.xml': topologyXml(
        `<Area Id="A" Address="1"><Line Id="L" Address="1"><Segment Id="S" Number="0" MediumTypeRefId="MT-0">
          <DeviceInstance Id="D" Address="1" ProductRefId="P"/></Segment></Line></Area>`,
      ),
      'M-F0A1/Hardware.xml': hardwareXml(first, 'M-F0A1'),
      'M-F0B2/Hardware.xml': hardwareXml(second, 'M-F0A1'),
    });

  test('for one product, told twice, is no fault', async () => {
    const same = hardware('BusCurrent="7"');
    const report = await audit(await archiveOf(same + same, same));
    expect(report.segments[0]?.load.totalMa).toBe(7);
  });

  test('for one product, told very often, is held against it without going through its hardware again', () => {
    const { counted, count } = countLooks(SILENT);
    const product = { ...PRODUCT, hardware: counted };
    const index = new Map();
    addProducts(index, [product, ...Array.from({ length: 1000 }, () => ({ ...product }))], PART);
    expect([...index]).toEqual([['P', product]]);
    expect(count()).toBeLessThan(50); // by the comparison of this test
  });

  test.each<[string, Partial<ProductRecord>]>([
    ['name', { name: 'Other' }],
    ['name, which only one has', { name: undefined }],
    ['order number', { orderNumber: 'PB2' }],
    ['maker', { manufacturer: 'M-F0B2' }],
    ['hardware', { hardware: { ...SILENT, id: 'H2' } }],
    ['hardware, in a flag', { hardware: { ...SILENT, isCable: true } }],
    ['hardware, in a flag that only one has', { hardware: { ...SILENT, hasIndividualAddress: false } }],
  ])('for two products is refused where they differ in their %s', (_what, difference) => {
    const index = new Map([[PRODUCT.id, PRODUCT]]);
    expect(() => addProducts(index, [{ ...PRODUCT, ...difference }], PART)).toThrow('two different products');
    expect(() => addProducts(index, [{ ...PRODUCT, hardware: { ...SILENT } }], PART)).not.toThrow();
  });

  test('for two different products is refused, as the audit would have to guess', async () => {
    const file = await archiveOf(hardware('BusCurrent="7"'), hardware('BusCurrent="8"'));
    const refusal = await refusalOf(() => audit(file));
    expect(refusal).toMatchObject({ code: 'invalid-value', place: { part: 'M-F0B2/Hardware.xml' } });
    expect(refusal.message).toContain('"P"');
  });
});

test('two makers in one document keep their products apart', async () => {
  const maker = (id: string, product: string) =>
    `<Manufacturer RefId="${id}"><Hardware><Hardware Id="${id}_H"><Products><Product Id="${product}"/></Products></Hardware></Hardware></Manufacturer>`;
  const found = await read(knx(`<ManufacturerData>${maker('M-F0A1', 'P')}${maker('M-F0B2', 'Q')}</ManufacturerData>`));
  expect(found.map(({ id, manufacturer, hardware: { id: of } }) => [id, manufacturer, of])).toEqual([
    ['P', 'M-F0A1', 'M-F0A1_H'],
    ['Q', 'M-F0B2', 'M-F0B2_H'],
  ]);
});

test('references to characters in names are resolved, once, and as many as there are', async () => {
  const products = Array.from({ length: 2000 }, (_, n) => `<Product Id="P${n}" Text="A &amp; B &#x20AC; &amp;lt;"/>`);
  const found = await read(hardwareXml(hardware('', `<Products>${products.join('')}</Products>`)));
  expect(new Set(found.map(({ name }) => name))).toEqual(new Set(['A & B € &lt;']));
  expect(found).toHaveLength(2000);
});
