// @ts-check
import { Random } from './random.mjs';

/** @import { Catalogue, Product } from './products.mjs' */

/** @typedef {keyof Catalogue['single']} Single */

/**
 * @typedef {object} Size
 * @property {number} areas
 * @property {number} linesPerArea
 * @property {number} devicesPerLine
 */

const GROUPS_PER_LINE = 120;
const CHANNELS = ['ceiling', 'window', 'façade', 'board', 'desk &amp; wall', 'corridor', 'door', 'reserve'];
const LOADED =
  'IndividualAddressLoaded="true" ApplicationProgramLoaded="true" CommunicationPartLoaded="true" MediumConfigLoaded="true" ParametersLoaded="true"';
const PARTICULARS = 'LastUsedAPDULength="55" ReadMaxAPDULength="254"';

/** What feeds a line, by its number, so that verdicts vary. @type {readonly (readonly Single[])[]} */
const FEEDS = [
  ['supply1280'],
  ['supply640', 'supply640'],
  ['supply1280'],
  ['supplyReporting'],
  ['supply1280'],
  ['supply640'],
  ['supply320'],
  ['supplyOld'],
  ['supply1280'],
  [],
];

/** Writes an installation: topology, locations and group addresses, piece by piece. */
export class InstallationWriter {
  #random = new Random(0x70b0);
  #number = 0;
  #puid = 0;
  #lines = 0;
  /** Per line the ids of its devices, for the locations. @type {{ name: string, devices: string[] }[]} */
  #rooms = [];

  /**
   * @param {string} project
   * @param {Catalogue} catalogue
   * @param {Size} size
   */
  constructor(project, catalogue, size) {
    this.prefix = `${project}-0`;
    this.project = project;
    this.catalogue = catalogue;
    this.size = size;
  }

  *write() {
    yield `  <Project Id="${this.project}">\n    <Installations>\n      <Installation Name="" InstallationId="0" CompletionStatus="Editing">\n`;
    yield* this.#topology();
    yield* this.#locations();
    yield* this.#groupAddresses();
    yield '      </Installation>\n    </Installations>\n  </Project>\n';
  }

  *#topology() {
    const { areas, linesPerArea } = this.size;
    yield '        <Topology>\n';
    if (areas > 1) yield* this.#area(0, [0]);
    for (let area = 1; area <= areas; area++)
      yield* this.#area(
        area,
        Array.from({ length: linesPerArea + 1 }, (_, line) => line),
      );
    yield '        </Topology>\n';
  }

  /**
   * @param {number} area
   * @param {readonly number[]} lines
   */
  *#area(area, lines) {
    yield `          <Area Id="${this.prefix}_A-${area + 1}" Address="${area}" Name="${area === 0 ? 'Backbone' : `Building ${area}`}" Puid="${++this.#puid}">\n`;
    for (const line of lines) yield* this.#line(area, line);
    yield '          </Area>\n';
  }

  /**
   * @param {number} area
   * @param {number} line
   */
  *#line(area, line) {
    const number = ++this.#lines;
    const devices = line === 0 ? this.#mainLine(area) : this.#ordinaryLine(number);
    this.#rooms.push({ name: `${area}.${line}`, devices: [] });
    yield `            <Line Id="${this.prefix}_L-${number}" Address="${line}" Name="Line ${area}.${line}" Puid="${++this.#puid}">\n`;
    for (const [segment, products] of this.#segments(devices, number).entries()) {
      const medium = number % 40 === 39 ? 'MT-2' : 'MT-0';
      yield `              <Segment Id="${this.prefix}_S-${number * 4 + segment}" Number="${segment}" Name="Segment ${segment + 1}" MediumTypeRefId="${medium}" Puid="${++this.#puid}">\n`;
      for (const { product, address } of products) yield this.#device(product, address);
      yield '              </Segment>\n';
    }
    yield '            </Line>\n';
  }

  /**
   * What stands on a main or backbone line beside the couplers that reach it.
   * @param {number} area
   */
  #mainLine(area) {
    const { areas, linesPerArea } = this.size;
    if (Math.max(areas, linesPerArea) === 1) return [];
    const { single } = this.catalogue;
    return [...(area > 0 && areas > 1 ? [single.coupler] : []), single.supply640, single.interface];
  }

  /**
   * Devices of an ordinary line: a coupler, what feeds it, and consumers, several of a product side by side.
   * @param {number} number
   */
  #ordinaryLine(number) {
    const { single } = this.catalogue;
    const devices = this.size.linesPerArea > 1 ? [single.coupler] : [];
    for (const supply of FEEDS[number % FEEDS.length] ?? []) devices.push(single[supply]);
    const wanted = Math.round(this.size.devicesPerLine * (0.85 + 0.3 * this.#random.next()));
    while (devices.length < wanted) {
      const product = this.catalogue.consumer(this.#random);
      for (let run = this.#random.between(1, 4); run > 0 && devices.length < wanted; run--) devices.push(product);
    }
    return devices;
  }

  /**
   * Gives addresses; every eighth line is of two segments, joined by a bridge.
   * @param {readonly Product[]} products
   * @param {number} number
   */
  #segments(products, number) {
    let next = 0;
    const place = (/** @type {Product} */ product) => {
      if (product.kind.unaddressed) return { product, address: undefined };
      const isLineCoupler = product === this.catalogue.single.coupler && next === 0;
      next = isLineCoupler ? 1 : Math.max(next, 1) + 1;
      return { product, address: next - 1 };
    };
    if (number % 8 !== 7) return [products.map(place)];
    const { coupler, supply640 } = this.catalogue.single;
    const half = products.length >> 1;
    const second = [coupler, supply640, ...products.slice(half)];
    return [products.slice(0, half).map(place), second.map(place)];
  }

  /**
   * @param {Product} product
   * @param {number | undefined} address
   */
  #device(product, address) {
    const random = this.#random;
    const id = `${this.prefix}_DI-${++this.#number}`;
    this.#rooms.at(-1)?.devices.push(id);
    const own = address === undefined ? '' : ` Address="${address}"`;
    const missing = random.chance(0.002) ? 'X' : ''; // a product that the archive does not hold
    const head = `                <DeviceInstance Id="${id}"${own} Name="${product.text} ${this.#number}" ProductRefId="${product.id}${missing}" Puid="${++this.#puid}"`;
    if (address === undefined) return `${head} />\n`;
    const parts = [this.#parameters(product), this.#objects(product), this.#extras(product)].join('');
    return `${head} Hardware2ProgramRefId="${product.programHardwareId}" ${LOADED} ${PARTICULARS} LastModified="${this.#time()}" LastDownload="${this.#time()}" SerialNumber="${random.base64(6)}" CheckSums="${random.base64(9)}">\n${parts}                </DeviceInstance>\n`;
  }

  #time() {
    const { between } = Random.prototype;
    const two = (/** @type {number} */ least, /** @type {number} */ most) =>
      String(between.call(this.#random, least, most)).padStart(2, '0');
    return `2025-${two(1, 12)}-${two(1, 28)}T${two(7, 18)}:${two(0, 59)}:${two(0, 59)}.${this.#random.between(100, 999)}Z`;
  }

  /** @param {Product} product */
  #parameters({ parameters }) {
    if (parameters.length === 0) return '';
    let text = '                  <ParameterInstanceRefs>\n';
    for (const ref of parameters) {
      text += `                    <ParameterInstanceRef RefId="${ref}" Value="${this.#value()}" />\n`;
    }
    return `${text}                  </ParameterInstanceRefs>\n`;
  }

  /** Most parameters are as delivered; others are numbers, durations and names of channels. */
  #value() {
    const random = this.#random;
    const kind = random.next();
    if (kind < 0.76) return '0';
    if (kind < 0.88) return String(random.below(6));
    if (kind < 0.975) return String(random.below(256));
    return kind < 0.99 ? String(random.below(36000) * 100) : `${random.pick(CHANNELS)} ${random.below(100)}`;
  }

  /** @param {Product} product */
  #objects({ objects }) {
    if (objects.length === 0) return '';
    let text = '                  <ComObjectInstanceRefs>\n';
    for (const { ref, datapoint } of objects) {
      const isLinked = this.#random.chance(0.5);
      const particulars = isLinked ? ` DatapointType="${datapoint}" Links="${this.#links()}"` : '';
      text += `                    <ComObjectInstanceRef RefId="${ref}"${particulars} />\n`;
    }
    return `${text}                  </ComObjectInstanceRefs>\n`;
  }

  #links() {
    const random = this.#random;
    const link = () => `GA-${(this.#lines - 1) * GROUPS_PER_LINE + random.below(GROUPS_PER_LINE) + 1}`;
    return random.chance(0.3) ? `${link()} ${link()}` : link();
  }

  /** @param {Product} product */
  #extras(product) {
    const random = this.#random;
    if (product === this.catalogue.single.interface) {
      const addresses = [250, 251, 252, 253].map((address) => `                    <Address Address="${address}" />\n`);
      return `                  <AdditionalAddresses>\n${addresses.join('')}                  </AdditionalAddresses>\n`;
    }
    if (!random.chance(0.01)) return '';
    return `                  <BinaryData>
                    <BinaryData Id="BD-${random.hex(4)}" Name="state">
                      <Data>${random.base64(900)}</Data>
                    </BinaryData>
                  </BinaryData>
`;
  }

  *#locations() {
    yield '        <Locations>\n';
    for (const [index, { name, devices }] of this.#rooms.entries()) {
      const puid = () => ++this.#puid;
      yield `          <Space Id="${this.prefix}_BP-${index * 10}" Type="Building" Name="Wing ${name}" Puid="${puid()}">\n`;
      for (let room = 0; room * 8 < devices.length; room++) {
        yield `            <Space Id="${this.prefix}_BP-${index * 10}-${room}" Type="Room" Name="Room ${room + 1}" Puid="${puid()}">\n`;
        for (const id of devices.slice(room * 8, room * 8 + 8))
          yield `              <DeviceInstanceRef RefId="${id}" />\n`;
        yield '            </Space>\n';
      }
      yield '          </Space>\n';
    }
    yield '        </Locations>\n';
  }

  *#groupAddresses() {
    yield '        <GroupAddresses>\n          <GroupRanges>\n';
    for (let line = 0; line < this.#lines; line++) {
      const start = line * GROUPS_PER_LINE;
      yield `            <GroupRange Id="${this.prefix}_GR-${line + 1}" RangeStart="${start + 1}" RangeEnd="${start + GROUPS_PER_LINE}" Name="Line ${this.#rooms[line]?.name}" Puid="${++this.#puid}">\n`;
      for (let number = start + 1; number <= start + GROUPS_PER_LINE; number++) {
        yield `              <GroupAddress Id="${this.prefix}_GA-${number}" Address="${number}" Name="Room ${this.#random.below(40)}, ${this.#random.pick(CHANNELS)}" DatapointType="DPST-1-${this.#random.between(1, 20)}" Puid="${++this.#puid}" />\n`;
      }
      yield '            </GroupRange>\n';
    }
    yield '          </GroupRanges>\n        </GroupAddresses>\n';
  }
}
