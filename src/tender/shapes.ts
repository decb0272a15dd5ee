import { z } from 'zod';
import { quantity } from '../documents/quantity.js';
import { line, list, oneOf, section, wholeNumber } from '../documents/shape.js';

/**
 * A plan as it exists before there is an export: lines with counts of devices. Maxima are those of the bus, or tell a
 * slip of the pen from a number.
 */

/** The most devices of a segment: far more than may hang on it, so that a plan that is too full is judged, not refused. */
export const MOST_ON_SEGMENT = 1000;

/** Addresses of the bus: volume 3/2/2 §1.3, 16 areas × 16 lines × 256. */
export const MOST_DEVICES = 65_536;

/** Lines of the bus, with the four segments that a line may have (volume 3/2/2 §1.3.2). */
export const MOST_LINES = 16 * 16 * 4;

/** Many more supplies than a segment may have. */
const MOST_SUPPLIES = 16;

/** In µA; the range that `currentMa` of a list takes as well. */
export const MOST_CURRENT_MA = 10_000;

const ADDRESS = 'area and line in quotation marks such as "1.1", each from 0 to 15';

/** Without quotation marks YAML reads 1.1 as a number, and 1.10 as 1.1. */
const address = z
  .string({ error: ADDRESS })
  .regex(/^(?:\d|1[0-5])\.(?:\d|1[0-5])$/, { error: ADDRESS })
  .describe(`the line: ${ADDRESS}`);

const rating = quantity('current', { over: 0, most: MOST_CURRENT_MA }, 'what a supply is rated');
const SUPPLIES = `a rating with its unit such as 640 mA, or a list of at most ${MOST_SUPPLIES} of them`;

/** What joins a segment to the rest of the bus. */
export const COUPLERS = ['line', 'IP', 'repeater', 'none'] as const;

export const DEVICES = section({
  count: wholeNumber({ least: 1, most: MOST_ON_SEGMENT }, 'how many'),
  what: line(200, 'what they are').default('device'),
  current: quantity(
    'current',
    { least: 0, most: MOST_CURRENT_MA },
    'what each draws; left out: the rule of thumb',
  ).optional(),
  orderNumber: line(200, 'by which a policy knows the product').optional(),
  location: line(400, 'the board or room that they are in').optional(),
});

export const LINE = section({
  line: address,
  segment: wholeNumber({ least: 1, most: 255 }, 'number of the segment, where the line has several').default(1),
  name: line(400, 'of the line, or of the segment').optional(),
  supply: z
    .union([rating, z.array(rating).max(MOST_SUPPLIES)], { error: SUPPLIES })
    .optional()
    .describe(`what feeds it: ${SUPPLIES}; left out: nothing yet`),
  coupler: oneOf(
    COUPLERS,
    'what joins it to the rest; left out: what it needs, which is a line coupler where there are other lines and a repeater from its second segment on',
  ).optional(),
  devices: list(DEVICES, 'devices', MOST_ON_SEGMENT).default([]),
});
