import { z } from 'zod';
import { SUPPLY_KINDS } from '../policy/policy.js';
import { PROPOSED_ACTIONS } from '../sizing/proposal.js';

/** The part of the report that says what to order. Currents in mA, prices in the currency of the office. */

const ma = z.number().describe('mA');
const lowestV = z.number().nullable().describe('lowest voltage that a device is sure to get, V');

const unitSchema = z.object({
  id: z.string().nullable().describe('of the device; null for what is bought'),
  name: z.string().nullable(),
  ratedMa: z.number().nullable().describe('mA; null where it is not declared'),
  kind: z.enum(SUPPLY_KINDS),
  orderNumber: z.string().nullable(),
  railUnits: z.number().nullable().describe('width on the rail in units of 18 mm, of what is bought'),
  price: z.number().nullable().describe('of one that is bought'),
  at: z.string().nullable().describe('point of the cable where it is to sit, of what is bought'),
});

const choiceSchema = z.object({
  kept: z.array(unitSchema),
  removed: z.array(unitSchema),
  added: z.array(unitSchema),
  ratedMa: ma.describe('sum of the ratings, mA'),
  targetMa: ma.describe('target share of it, mA'),
  marginMa: ma.describe('target less load and what is planned, mA'),
  price: z.number().nullable().describe('of all that is bought; null where a price is not known'),
  lowest: z
    .object({ isDecided: z.boolean(), typicalV: lowestV, leastV: lowestV })
    .nullable()
    .describe('null where no site sheet tells of the cable'),
});

/** What to do about the supplies of a segment. */
export const proposalSchema = z.object({
  action: z.enum(PROPOSED_ACTIONS),
  because: z.string().nullable().describe('why no single choice serves, or why nothing is proposed'),
  with: z.array(z.string()).describe('ids of the other segments that the proposal is for, as they share the supplies'),
  loadMa: ma.describe('load of all these segments, mA'),
  plannedMa: ma.describe('planned and not there yet, mA'),
  choice: choiceSchema.nullable(),
  others: z.array(choiceSchema).describe('what would do as well, next best first'),
  conditions: z.array(z.string()).describe('what the choice depends on'),
});

/** What the published schemas call the shapes. */
export const NAMED_PROPOSAL: readonly (readonly [shape: z.ZodType, id: string, title: string])[] = [
  [unitSchema, 'ProposedUnit', 'A supply that stays, goes or is bought'],
  [choiceSchema, 'SupplyChoice', 'Supplies that carry a segment'],
  [proposalSchema, 'Proposal', 'What to do about the supplies of a segment'],
];

export type ReportProposal = z.infer<typeof proposalSchema>;
export type ReportChoice = z.infer<typeof choiceSchema>;
export type ReportUnit = z.infer<typeof unitSchema>;
