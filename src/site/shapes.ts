import { z } from 'zod';
import { quantity } from '../documents/quantity.js';
import { line, list, number, oneOf, section, wholeNumber } from '../documents/shape.js';
import { CABLES, cableNamed } from './cables.js';
import { SYMPTOMS } from './site.js';

/** The parts of a site sheet. Maxima are far beyond any site: they tell a slip of the pen from a length. */

/** The most entries of a list. */
export const MOST_ENTRIES = 5000;

/** The most runs of a segment, and as many points. */
export const MOST_RUNS = 2000;

const NAME = 'a text in quotation marks of 1 to 400 characters on one line such as "1.1"';

/** Without quotation marks YAML reads 1.1 as a number, and 1.10 as 1.1. */
export const nameShape = z
  .string({ error: ({ input }) => (typeof input === 'number' ? `quotation marks around it: ${NAME}` : NAME) })
  .min(1, { error: NAME })
  .max(400, { error: NAME })
  .regex(/^[^\p{Cc}\p{Zl}\p{Zp}]*\S[^\p{Cc}\p{Zl}\p{Zp}]*$/u, { error: NAME });

const HASH = '64 hexadecimal digits in lower case, as the report gives them';

export const hash = z
  .string({ error: HASH })
  .regex(/^[0-9a-f]{64}$/, { error: HASH })
  .describe('SHA-256 of the archive that the sheet was written for; names that another state lacks are then told of');

export const SCHEMA_PLACE = line(500, 'where an editor finds the JSON Schema');

const YES = 'true or false';
const yesOrNo = (what: string) => z.boolean({ error: YES }).optional().describe(what);
const names = (of: string, what: string) => list(nameShape, of, MOST_ENTRIES).describe(what);

const devices = names('devices', 'by individual address, id, or a name that only one has');
const locations = names('locations', 'all devices there: a place by its path, or a part of it that only one has');
const lengthOf = (what: string) => quantity('length', { least: 0, most: 10_000 }, what);
const currentOf = (what: string) => quantity('current', { least: 0, most: 10_000 }, what);
const time = (what: string) => quantity('time', { over: 0, most: 1000 }, what);
const temperature = (what: string) => quantity('temperature', { least: -40, most: 90 }, what);
const BUS_RANGE = 'the bus range is 21–32 V (volume 3/2/2)';
const terminalVoltage = (what: string) => quantity('voltage', { least: 15, most: 32 }, what, BUS_RANGE);
const count = wholeNumber({ least: 1, most: 256 }, 'how many');
const point = line(200, 'a point of the cable, as the runs name it');

const cable = z
  .string({ error: `one of ${CABLES.map(({ name }) => name).join(', ')}` })
  .refine((name) => cableNamed(name) !== undefined, { error: `one of ${CABLES.map(({ name }) => name).join(', ')}` })
  .meta({ enum: CABLES.flatMap(({ name }) => (name.includes('²') ? [name, name.replace('²', '2')] : [name])) })
  .describe('a cable of the table');

const PART = section({
  number: wholeNumber({ least: 1, most: 255 }, 'of the segment on its line'),
  name: line(400, 'of the segment').optional(),
  devices: devices.default([]),
  locations: locations.default([]),
});

export const LINE = section({
  line: nameShape.describe('the line, by address or id'),
  segments: list(PART, 'segments', 255)
    .min(2, { error: 'a list of at least two segments' })
    .describe(
      'what the repeaters part it into; devices that are in none are known to be on none, but for supplies that feed one of them',
    ),
});

export const SUPPLY = section({
  supply: nameShape.describe('the supply, by individual address, id, or a name that only one device has'),
  board: line(200, 'the board that it stands in').optional(),
  mainsCircuit: line(200, 'the circuit of the mains that it hangs on').optional(),
  terminalVoltage: terminalVoltage('typical voltage at its terminals, after the choke').optional(),
  leastTerminalVoltage: terminalVoltage('the least of it').optional(),
  sourceResistance: quantity('resistance', { least: 0, most: 1000 }, 'by how much its voltage falls').optional(),
  currentLimit: quantity('current', { over: 0, most: 10_000 }, 'what it delivers at most').optional(),
  choke: oneOf(['own', 'shared'], 'whether its choke is its own').optional(),
});

const RUN = section({
  from: point,
  to: point,
  length: lengthOf('of the cable between them'),
  cable: cable.optional(),
  doubledPair: yesOrNo('a second pair in parallel'),
});

const PLACE = section({ at: point, devices: devices.default([]), locations: locations.default([]) });

const PLANNED = section({
  devices: count,
  current: currentOf('of each; left out: the rule of thumb').optional(),
  at: point.optional(),
});

const BATTERY = section({
  capacity: quantity('capacity', { over: 0, most: 1000 }, 'as rated; left out: what is needed is told').optional(),
  voltage: quantity('voltage', { least: 1, most: 100 }, 'as rated'),
  efficiency: quantity('share', { least: 10, most: 100 }, 'from the battery to the bus').optional(),
  ownConsumption: currentOf('of the supply itself, from the battery').optional(),
  temperature: temperature('around the battery').optional(),
  peukert: number({ least: 1, most: 2 }, "Peukert's exponent").optional(),
  ratedOver: time('over which the capacity is rated').optional(),
});

const HOLD_UP = section({
  time: time('how long the segment has to run on'),
  battery: BATTERY.optional(),
  peak: section({
    current: currentOf('a further load on the bus'),
    time: time('how long, at the end of the time'),
  }).optional(),
});

const MEASURED = section({
  currents: list(
    section({ supply: nameShape, current: currentOf('at the supply') }),
    'measured currents',
    MOST_ENTRIES,
  ).default([]),
  voltages: list(
    section({ at: point.optional(), voltage: quantity('voltage', { least: 0, most: 50 }, 'left out at: the far end') }),
    'measured voltages',
    MOST_ENTRIES,
  ).default([]),
  symptom: oneOf(SYMPTOMS, 'what is seen where nothing was measured').optional(),
});

export const SEGMENT = section({
  segment: nameShape.describe('the segment, as texts call it ("1.1", "1.1 segment 2"), or its id'),
  fedBy: names('supplies', 'which supplies feed it; left out: those that stand on it').optional(),
  cable: cable.optional(),
  loopResistance: quantity('loopResistance', { over: 0, most: 10_000 }, 'of one pair at 20 °C, both wires').optional(),
  temperature: temperature('of the cable; left out: 20 °C').optional(),
  doubledPair: z.boolean({ error: YES }).default(false).describe('a second pair in parallel'),
  runs: list(RUN, 'runs', MOST_RUNS).default([]).describe('the cable, piece by piece: a line, a star, a tree, a ring'),
  places: list(PLACE, 'places', MOST_ENTRIES).default([]).describe('which devices and supplies sit where'),
  totalLength: lengthOf('all cable of the segment').optional(),
  farthest: lengthOf('cable from the nearest supply to the device that is farthest from one').optional(),
  auxiliaryLoad: currentOf('drawn from an unchoked output of its supplies').optional(),
  planned: list(PLANNED, 'planned devices', MOST_ENTRIES).default([]).describe('what is still to come'),
  critical: yesOrNo('what hangs on it has to run on when a supply fails'),
  monitoring: yesOrNo('its supplies have to report their state'),
  holdUp: HOLD_UP.optional().describe('how long it has to run on without the mains'),
  connected: names('devices', 'the devices that are connected, where not all are').optional(),
  measured: MEASURED.optional().describe('what was measured or seen'),
});
