import { z } from 'zod';
import { SUPPLY_KINDS } from '../policy/policy.js';

/** What becomes of the supplies of a row. */
export const SCHEDULE_STATES = ['existing', 'new', 'replacement', 'remove'] as const;

/** Supplies of one sort at one place: a row of the order. */
export const scheduleRowSchema = z.object({
  project: z.string(),
  installation: z.int().nonnegative(),
  place: z.string().describe('the board, else the place of the supply in the building, else the area'),
  state: z.enum(SCHEDULE_STATES),
  ratedMa: z.number().nullable().describe('mA; null where it is not declared'),
  kind: z.enum(SUPPLY_KINDS),
  orderNumber: z.string().nullable(),
  quantity: z.int().positive(),
  railUnits: z.number().nullable().describe('of all of them, in units of 18 mm; null where it is not known'),
  price: z.number().nullable().describe('of one, in the currency of the office; null where it is not known'),
  sum: z.number().nullable().describe('of all of them'),
  segments: z.array(z.string()).describe('what texts call the segments concerned'),
});

export type ScheduleRow = z.infer<typeof scheduleRowSchema>;
