import { z } from 'zod';
import { checkDocument, DocumentError, parseDocument } from '../documents/document.js';
import { line, list, oneOf, section } from '../documents/shape.js';
import { InputError } from '../errors.js';
import { isDay } from './day.js';
import { PLANT_RULE_IDS } from './rule-ids.js';

/** The most entries that a file may list. */
const MOST_WAIVERS = 5000;

const FINGERPRINT = '32 hexadecimal digits in lower case, as the report gives them';
const DAY = 'a day of the calendar as YYYY-MM-DD';
const FIGURE = 'a number and its unit such as 84 % or 540 mA';

/** A number with a point, and `%` or words. */
const FIGURE_PATTERN = /^(-?\d{1,9}(?:\.\d{1,6})?) ?(%|\p{L}{1,30}(?: \p{L}{1,30})?)$/u;

const figure = (what: string) => z.string({ error: FIGURE }).regex(FIGURE_PATTERN, { error: FIGURE }).describe(what);

/** A finding that somebody answers for: until when, and up to which figure. */
export const waiverSchema = section({
  fingerprint: z
    .string({ error: FINGERPRINT })
    .regex(/^[0-9a-f]{32}$/, { error: FINGERPRINT })
    .describe('of the finding'),
  rule: oneOf(PLANT_RULE_IDS, 'the rule of the finding'),
  subject: line(400, 'what the finding is about, for people').optional(),
  reason: line(500, 'why it is accepted'),
  author: line(200, 'who answers for it'),
  expires: z
    .string({ error: DAY })
    .regex(/^\d{4}-\d{2}-\d{2}$/, { error: DAY })
    .refine(isDay, { error: DAY })
    .describe('the last day on which it counts, UTC'),
  accepted: figure('the figure of the finding when it was accepted, as a share in % or in its own unit').optional(),
  raiseAbove: figure(
    'beyond which figure the finding counts again, in the unit of accepted; left out: beyond accepted',
  ).optional(),
})
  .refine(({ accepted, raiseAbove }) => raiseAbove === undefined || accepted !== undefined, {
    error: 'an accepted figure beside raiseAbove',
    path: ['accepted'],
  })
  .refine(
    ({ accepted, raiseAbove }) => accepted === undefined || raiseAbove === undefined || isOneUnit(accepted, raiseAbove),
    {
      error: 'a figure in the unit of accepted',
      path: ['raiseAbove'],
    },
  );

export type Waiver = z.infer<typeof waiverSchema>;

/** The list of waivers as a person writes it. */
export const waiversFileSchema = section({
  $schema: line(500, 'where an editor finds the JSON Schema').optional(),
  waivers: list(waiverSchema, 'waivers', MOST_WAIVERS)
    .superRefine(refuseRepeated)
    .describe('findings that are accepted'),
});

/**
 * Reads a list of waivers, in YAML or JSON.
 * @param name what errors call the file
 * @throws InputError `invalid-waivers` with path, value and what is allowed for each fault
 */
export async function readWaivers(source: string, name: string): Promise<readonly Waiver[]> {
  try {
    return checkDocument(waiversFileSchema, await parseDocument(source)).waivers;
  } catch (cause) {
    throw cause instanceof DocumentError ? new InputError('invalid-waivers', cause.message, { part: name }) : cause;
  }
}

/** A figure as a person writes it: 84 and `%`, 540 and `mA`. */
export interface Figure {
  readonly value: number;
  readonly unit: string;
}

/** What a text of the shape above says. */
export function figureOf(text: string): Figure {
  const [, value = '', unit = ''] = FIGURE_PATTERN.exec(text) ?? [];
  return { value: Number(value), unit };
}

/** Whether two units are one: `device` is `devices`, and `ma` is `mA`. */
export function isSameUnit(one: string, other: string): boolean {
  return singular(one) === singular(other);
}

function singular(unit: string): string {
  return unit.toLowerCase().replace(/ies$/, 'y').replace(/s$/, '');
}

function isOneUnit(one: string, other: string): boolean {
  return isSameUnit(figureOf(one).unit, figureOf(other).unit);
}

/** One finding has one waiver: of two that say different things nobody could tell which counts. */
function refuseRepeated(waivers: readonly Waiver[], context: z.RefinementCtx): void {
  const first = new Map<string, number>();
  waivers.forEach(({ fingerprint }, index) => {
    const earlier = first.get(fingerprint);
    if (earlier === undefined) first.set(fingerprint, index);
    else {
      const message = `one entry for each fingerprint, and waivers[${earlier}] has this one`;
      context.addIssue({ code: 'custom', message, path: [index, 'fingerprint'] });
    }
  });
}
