import type { z } from 'zod';
import { quantity } from '../documents/quantity.js';
import { line, list, section, wholeNumber } from '../documents/shape.js';
import { nameShape, SCHEMA_PLACE } from '../site/shapes.js';
import { MOST_CURRENT_MA, MOST_DEVICES, MOST_ON_SEGMENT } from '../tender/shapes.js';
import { sum } from '../units.js';

/** What may be changed about the plant of an archive, as a person writes it. Maxima are those of a plan. */

/** The most entries of a document. */
const MOST_CHANGES = 1000;

const howMany = (what: string) => wholeNumber({ least: 1, most: MOST_ON_SEGMENT }, what).optional();

const ENTRY = section({
  line: nameShape.describe('the line, by address or id'),
  segment: wholeNumber({ least: 0, most: 255 }, 'number of the segment, where the line has several').optional(),
  add: howMany('how many devices come'),
  remove: howMany('how many devices go; of several alike the last ones'),
  supply: quantity('current', { over: 0, most: MOST_CURRENT_MA }, 'a supply that comes, by its rating').optional(),
  product: nameShape
    .describe('what comes or goes: order number, id or name of a product of the archive, exactly')
    .optional(),
  current: quantity(
    'current',
    { least: 0, most: MOST_CURRENT_MA },
    'in place of the product: what each draws that the archive does not know',
  ).optional(),
  what: line(200, 'beside a current: what they are').optional(),
  location: line(400, 'the board or room that they are in').optional(),
});

type Entry = z.infer<typeof ENTRY>;

const KINDS = ['add', 'remove', 'supply'] as const;

/** The keys that each kind of change takes beside the place. */
const TAKES: Readonly<Record<(typeof KINDS)[number], readonly (keyof Entry)[]>> = {
  add: ['product', 'current', 'what'],
  remove: ['product'],
  supply: [],
};

/** What the keys of an entry cannot say together. */
function checkEntry(entry: Entry, context: z.RefinementCtx): void {
  const tell = (key: keyof Entry, message: string) => context.addIssue({ code: 'custom', message, path: [key] });
  const [kind, ...others] = KINDS.filter((one) => entry[one] !== undefined);
  for (const other of others) tell(other, `an entry of its own, as this one has ${kind}`);
  if (kind === undefined) {
    tell('add', 'a number; or else remove or supply stands here');
    return;
  }
  for (const key of TAKES.add) {
    if (entry[key] !== undefined && !TAKES[kind].includes(key)) tell(key, `no value beside ${kind}`);
  }
  if (kind === 'remove' && entry.product === undefined) tell('product', 'what goes, by order number, id or name');
  if (kind !== 'add') return;
  const { product, current, what } = entry;
  if (product === undefined && current === undefined) tell('product', 'what comes; or else current says what it draws');
  if (product !== undefined && current !== undefined) tell('current', 'no value beside product, which has its own');
  if (product !== undefined && what !== undefined) tell('what', 'no value beside product, which has its name');
}

export const CHANGE = ENTRY.superRefine(checkEntry);

export const changesSchema = section({
  $schema: SCHEMA_PLACE.optional(),
  changes: list(CHANGE, 'changes', MOST_CHANGES).min(1, { error: `a list of 1 to ${MOST_CHANGES} changes` }),
}).superRefine(({ changes }, context) => {
  const count = sum(changes.map(({ add = 0 }) => add));
  const message = `at most ${MOST_DEVICES} devices that come together, not ${count}`;
  if (count > MOST_DEVICES) context.addIssue({ code: 'custom', message, path: ['changes'] });
});

/** What a change says, without where it stands. */
export type ChangeEntry = Entry;
