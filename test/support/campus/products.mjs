// @ts-check
import { Random } from './random.mjs';

/**
 * @typedef {object} Maker
 * @property {string} id
 * @property {string} name
 * @property {number} hardwareBytes about how long its hardware document is
 */

/**
 * @typedef {object} Kind what products of one kind have in common
 * @property {string} text
 * @property {string} code
 * @property {readonly (string | undefined)[]} ma declared currents to choose from
 * @property {number} share how often devices are of this kind
 * @property {number} parameters
 * @property {number} objects
 * @property {readonly string[]} [flags]
 * @property {boolean} [unaddressed] without individual address and program
 */

/**
 * @typedef {object} Product
 * @property {Kind} kind
 * @property {Maker} maker
 * @property {string} id
 * @property {string} hardwareId
 * @property {string} programId
 * @property {string} programHardwareId
 * @property {string} text
 * @property {string} order
 * @property {string | undefined} ma
 * @property {readonly string[]} parameters what stands in RefId
 * @property {readonly { ref: string, datapoint: string }[]} objects
 */

/** Invented makers; the sizes of their hardware documents span what is met in practice. */
export const MAKERS = /** @type {const} */ ([
  { id: 'M-F0A1', name: 'Alderfen Controls', hardwareBytes: 40_000 },
  { id: 'M-F0B2', name: 'Quillhaven Devices', hardwareBytes: 120_000 },
  { id: 'M-F0C3', name: 'Brackwater Electric', hardwareBytes: 10_000 },
  { id: 'M-F0D4', name: 'Tarnmoor Automation', hardwareBytes: 400_000 },
  { id: 'M-F0E5', name: 'Hollowmere Sensing', hardwareBytes: 1_000_000 },
]);

/** Kinds that stand on lines in numbers. @type {readonly Kind[]} */
const CONSUMERS = [
  { text: 'Push button, 4-fold', code: 'PB4', ma: ['5', '7.5', '10'], share: 26, parameters: 36, objects: 12 },
  { text: 'Push button, 8-fold', code: 'PB8', ma: ['8', '10', '12.5'], share: 8, parameters: 68, objects: 24 },
  { text: 'Presence detector', code: 'PD1', ma: ['9', '12', undefined], share: 18, parameters: 30, objects: 8 },
  { text: 'Room thermostat', code: 'RT1', ma: ['6', '10'], share: 10, parameters: 52, objects: 18 },
  { text: 'Switch actuator, 8-fold', code: 'SA8', ma: ['4', '12'], share: 12, parameters: 72, objects: 24 },
  { text: 'Dimming actuator, 4-fold', code: 'DA4', ma: ['3', '12'], share: 6, parameters: 62, objects: 20 },
  { text: 'Blind actuator, 4-fold', code: 'BA4', ma: ['4', '12'], share: 7, parameters: 64, objects: 20 },
  { text: 'Heating actuator, 6-fold', code: 'HA6', ma: ['4', '12'], share: 5, parameters: 54, objects: 18 },
  { text: 'Binary input, 4-fold', code: 'BI4', ma: ['2.5', '6'], share: 5, parameters: 32, objects: 8 },
  { text: 'Lighting gateway, 64 ballasts', code: 'LG64', ma: ['20'], share: 1, parameters: 190, objects: 90 },
  { text: 'Touch display', code: 'TD1', ma: ['45', '60'], share: 1, parameters: 130, objects: 60 },
  { text: 'Energy meter', code: 'EM1', ma: ['0'], share: 1, parameters: 14, objects: 12 },
];

const SUPPLY = ['IsPowerSupply'];
const COUPLER = ['IsCoupler'];
const FEW = { share: 0, parameters: 0, objects: 0 };

/** Kinds that a line has one or two of. @satisfies {Readonly<Record<string, Kind>>} */
const SINGLE = {
  supply320: { ...FEW, text: 'Bus power supply 320 mA', code: 'PS320', ma: ['320'], flags: SUPPLY, unaddressed: true },
  supply640: { ...FEW, text: 'Bus power supply 640 mA', code: 'PS640', ma: ['640'], flags: SUPPLY, unaddressed: true },
  supply1280: {
    ...FEW,
    text: 'Bus power supply 1280 mA',
    code: 'PS12',
    ma: ['-1280'],
    flags: SUPPLY,
    unaddressed: true,
  },
  supplyOld: { ...FEW, text: 'Power unit, older type', code: 'PSX', ma: [undefined], flags: SUPPLY, unaddressed: true },
  supplyReporting: {
    ...FEW,
    text: 'Reporting supply 640 mA',
    code: 'PSR',
    ma: ['640'],
    flags: SUPPLY,
    parameters: 12,
    objects: 8,
  },
  coupler: { ...FEW, text: 'Line coupler', code: 'LC1', ma: ['6'], flags: COUPLER, parameters: 24 },
  interface: { ...FEW, text: 'Programming interface', code: 'IF1', ma: ['10'], parameters: 6 },
};

const DATAPOINTS = ['DPST-1-1', 'DPST-1-8', 'DPST-3-7', 'DPST-5-1', 'DPST-5-10', 'DPST-9-1', 'DPST-13-10', 'DPST-17-1'];

/** All products of an archive. */
export class Catalogue {
  /** @type {Product[]} */
  #consumers = [];
  /** @type {Product[]} by share: a kind of share 3 stands in it three times */
  #pool = [];

  /**
   * @param {readonly Maker[]} makers
   * @param {number} bulk factor on parameters and communication objects
   */
  constructor(makers, bulk) {
    const random = new Random(0xca7a);
    const product = (/** @type {Kind} */ kind, /** @type {Maker} */ maker, /** @type {number} */ variant) =>
      makeProduct(kind, maker, variant, bulk, random);
    const first = /** @type {Maker} */ (makers[0]);
    for (const [variant, maker] of makers.entries()) {
      for (const kind of CONSUMERS) this.#consumers.push(product(kind, maker, variant));
    }
    this.#pool = this.#consumers.flatMap((each) => Array.from({ length: each.kind.share }, () => each));
    this.single = {
      supply320: product(SINGLE.supply320, first, 0),
      supply640: product(SINGLE.supply640, first, 0),
      supply1280: product(SINGLE.supply1280, first, 0),
      supplyOld: product(SINGLE.supplyOld, first, 0),
      supplyReporting: product(SINGLE.supplyReporting, first, 0),
      coupler: product(SINGLE.coupler, first, 0),
      interface: product(SINGLE.interface, first, 0),
    };
  }

  /** @returns {readonly Product[]} */
  get all() {
    return [...Object.values(this.single), ...this.#consumers];
  }

  /** @param {Random} random */
  consumer(random) {
    return random.pick(this.#pool);
  }
}

/**
 * @param {Kind} kind
 * @param {Maker} maker
 * @param {number} variant
 * @param {number} bulk
 * @param {Random} random
 * @returns {Product}
 */
function makeProduct(kind, maker, variant, bulk, random) {
  const order = `${kind.code}-${maker.id.slice(-2)}`;
  const escaped = order.replaceAll('-', '.2D');
  const hardwareId = `${maker.id}_H-${escaped}-1`;
  const program = `${random.hex(4)}-1${random.below(10)}-${random.hex(4)}`;
  const programId = `${maker.id}_A-${program}`;
  const parameters = Array.from({ length: Math.round(kind.parameters * bulk) }, (_, index) => {
    const number = index * (1 + variant) + random.between(1, 1 + variant);
    return `${programId}_P-${number}_R-${number * 10 + random.below(10)}`;
  });
  const objects = Array.from({ length: Math.round(kind.objects * bulk) }, (_, index) => ({
    ref: `O-${index}_R-${index * 2 + random.below(2)}`,
    datapoint: random.pick(DATAPOINTS),
  }));
  return {
    kind,
    maker,
    id: `${hardwareId}_P-${escaped}`,
    hardwareId,
    programId,
    programHardwareId: `${hardwareId}_HP-${program}`,
    text: kind.text,
    order,
    ma: kind.ma[variant % kind.ma.length],
    parameters,
    objects,
  };
}
