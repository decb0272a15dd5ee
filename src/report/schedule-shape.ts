import { z } from 'zod';
import { SUPPLY_KINDS } from '../policy/policy.js';
import { PROPOSED_ACTIONS } from '../sizing/choice.js';

/** What becomes of the supplies of a row. */
export const SCHEDULE_STATES = ['existing', 'new', 'replacement', 'remove'] as const;

/** What a row is of. */
export const SCHEDULE_ITEMS = ['supply', 'coupler'] as const;

/** Supplies of one sort at one place, or the couplers of new lines: a row of the order. */
export const scheduleRowSchema = z.object({
  project: z.string(),
  installation: z.int().nonnegative(),
  place: z.string().describe('the board, else the place of the supply in the building, else the area'),
  state: z.enum(SCHEDULE_STATES),
  item: z.enum(SCHEDULE_ITEMS),
  ratedMa: z.number().nullable().describe('mA; null where it is not declared, and for couplers'),
  kind: z.enum(SUPPLY_KINDS).nullable().describe('null for couplers'),
  orderNumber: z.string().nullable(),
  quantity: z.int().positive(),
  railUnits: z
    .number()
    .nullable()
    .describe('of all of them, in units of 18 mm, as the stock of the policy has it; null where it does not'),
  price: z
    .number()
    .nullable()
    .describe('of one, in the currency of the office; null where it is not known, or nothing is bought'),
  sum: z.number().nullable().describe('of all of them'),
  segments: z.array(z.string()).describe('what texts call the segments concerned'),
});

export type ScheduleRow = z.infer<typeof scheduleRowSchema>;

/** Segments that the schedule lacks supplies for. */
export const notScheduledSchema = z.object({
  project: z.string(),
  installation: z.int().nonnegative(),
  segments: z.array(z.string()).describe('what texts call them; several where they share their supplies'),
  action: z.enum(PROPOSED_ACTIONS).describe('of their proposal'),
  because: z.string().nullable().describe('why nothing is scheduled'),
});

export type NotScheduled = z.infer<typeof notScheduledSchema>;
