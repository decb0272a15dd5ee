import fc from 'fast-check';
import { hardwareXml, topologyXml } from './xml.js';

/** Small random plants as the parts of an archive, in both forms of the topology, with all that may be left out left out. */
export const plantParts: fc.Arbitrary<Record<string, string>> = fc.nat({ max: 1 }).chain((form) => plant(form === 0));

/** Attributes of an element; undefined ones are left out. */
type Attributes = Readonly<Record<string, string | undefined>>;

const PRODUCT_COUNT = 8;

/** What the schema allows to be written for true and false, and ways to say nothing. */
const flag = fc.constantFrom('1', 'true', '0', 'false', '', undefined);
const seldom = fc.oneof(
  { weight: 5, arbitrary: fc.constantFrom('0', 'false', undefined) },
  { weight: 1, arbitrary: flag },
);

/** Currents as documents write them, and texts that are none; at most three decimals, so a whole number of µA. */
const current = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 0, max: 1_300_000 }).map((ua) => String(ua / 1000)) },
  { weight: 2, arbitrary: fc.constantFrom('160', '320', '640', '1280', '-320', '24.999', '25', '-25') },
  {
    weight: 3,
    arbitrary: fc.constantFrom(
      ...['0', '0.000', '-0', '-0.001', '+7', '.5', '7.', ' 12 ', '1e1', '2.5E+1', '1250e-2', '007', '1e-3', '0e9'],
      ...['', '  ', '12,5', '12 mA', 'none', '0x10', '1e', 'e1', '.', '+', '--1', '1 0', 'NaN', 'Infinity', '١٢'],
    ),
  },
  { weight: 2, arbitrary: fc.constant(undefined) },
);

const flags = fc.record({
  BusCurrent: current,
  HasIndividualAddress: flag,
  HasApplicationProgram: flag,
  IsPowerSupply: seldom,
  IsCoupler: seldom,
  IsChoke: seldom,
  IsAccessory: seldom,
  IsCable: seldom,
  IsIPEnabled: seldom,
});

/** Mostly consumers; supplies and couplers often enough. */
const product = fc
  .tuple(
    flags,
    fc.oneof(
      { weight: 3, arbitrary: fc.constant({}) },
      { weight: 2, arbitrary: fc.constant({ IsPowerSupply: '1' }) },
      { weight: 2, arbitrary: fc.constant({ IsCoupler: 'true' }) },
    ),
  )
  .map(([drawn, set]): Attributes => ({ ...drawn, ...set }))
  .filter((drawn) => !isContradiction(drawn));

/**
 * What the form does not settle is not drawn: a choke that is a coupler as well, and a coupler that is a passive part
 * (no address, no program, no current), which could not stand at the address of a coupler.
 */
function isContradiction(drawn: Attributes): boolean {
  const says = (name: string, ...values: string[]) => values.includes(drawn[name]?.trim() ?? '');
  const isSet = (name: string) => says(name, '1', 'true');
  if (!isSet('IsCoupler')) return false;
  const isPassive =
    says('HasIndividualAddress', '0', 'false') && !isSet('HasApplicationProgram') && says('BusCurrent', '');
  return isSet('IsChoke') || isPassive;
}

/** A device: which product it is of (the last two are not in the archive, or not named), and its address. */
const device = fc.record({
  product: fc.nat({ max: PRODUCT_COUNT + 1 }),
  address: fc.oneof(fc.constantFrom(0, 0, 1, 255), fc.integer({ min: 0, max: 255 })),
  isUnaddressed: fc.nat({ max: 5 }).map((one) => one === 0),
});
const devicesUpTo = (most: number) => fc.array(device, { maxLength: most });
const devices = devicesUpTo(5);
type Device = typeof device extends fc.Arbitrary<infer T> ? T : never;

const medium = fc.constantFrom('MT-0', 'MT-0', 'MT-0', 'MT-1', 'MT-2', 'MT-5', '', undefined);

const segment = fc.record({ number: fc.constantFrom(undefined, 0, 1, 2, 3), medium, devices });

/** Lines whose devices stand on segments (newer form), or on the line itself (older form). */
const line = (isNew: boolean) =>
  fc.record({
    area: fc.constantFrom(0, 1, 1, 2),
    line: fc.constantFrom(0, 0, 1, 2),
    medium,
    segments: fc.array(segment, { maxLength: isNew ? 3 : 0 }),
    devices: devicesUpTo(isNew ? 0 : 5),
  });

function plant(isNew: boolean): fc.Arbitrary<Record<string, string>> {
  return fc
    .record({
      schema: isNew ? fc.constantFrom(21, 22, 23) : fc.constantFrom(10, 13, 14, 20),
      products: fc.array(product, { minLength: PRODUCT_COUNT, maxLength: PRODUCT_COUNT }),
      lines: fc.array(line(isNew), { minLength: 1, maxLength: 5 }),
      unassigned: devices,
    })
    .filter(({ lines }) => !isNew || lines.some(({ segments }) => segments.length > 0))
    .map(({ schema, products, lines, unassigned }) => {
      const writer = new Writer(products);
      return {
        'P-0001/0.xml': topologyXml(
          lines.map((one) => writer.line(one)).join('') + writer.unassigned(unassigned),
          schema,
        ),
        'M-F0A1/Hardware.xml': hardwareXml(
          products.map((one, index) => writer.product(one, index)).join(''),
          'M-F0A1',
          schema,
        ),
      };
    });
}

type Line = ReturnType<typeof line> extends fc.Arbitrary<infer T> ? T : never;

class Writer {
  #ids = 0;

  constructor(readonly products: readonly Attributes[]) {}

  line({ area, line: number, medium: ofLine, segments, devices: own }: Line): string {
    const attributes = { Id: this.#id('L'), Address: String(number), MediumTypeRefId: ofLine };
    const content = segments.map((one) => {
      const ofSegment = { Id: this.#id('S'), Number: one.number?.toString(), MediumTypeRefId: one.medium };
      return element('Segment', ofSegment, this.#devices(one.devices));
    });
    const all = element('Line', attributes, content.join('') + this.#devices(own));
    return element('Area', { Id: this.#id('A'), Address: String(area) }, all);
  }

  unassigned(spare: readonly Device[]): string {
    return element('UnassignedDevices', {}, this.#devices(spare));
  }

  product(attributes: Attributes, index: number): string {
    const inside = element('Products', {}, element('Product', { Id: `P${index}`, Text: `Product ${index}` }));
    return element('Hardware', { Id: `H${index}`, ...attributes }, inside);
  }

  #devices(list: readonly Device[]): string {
    return list.map((one) => this.#device(one)).join('');
  }

  /** A coupler always has its address: the form does not tell what one without is between. */
  #device({ product: index, address, isUnaddressed }: Device): string {
    const isCoupler = ['1', 'true'].includes(this.products[index]?.IsCoupler ?? '');
    return element('DeviceInstance', {
      Id: this.#id('D'),
      Address: isUnaddressed && !isCoupler ? undefined : String(address),
      ProductRefId: index > PRODUCT_COUNT ? undefined : `P${index}`,
    });
  }

  #id(kind: string): string {
    return `P-0001-0_${kind}-${++this.#ids}`;
  }
}

function element(name: string, attributes: Attributes, content = ''): string {
  const written = Object.entries(attributes).flatMap(([key, value]) =>
    value === undefined ? [] : [` ${key}="${value}"`],
  );
  return `<${name}${written.join('')}>${content}</${name}>`;
}
