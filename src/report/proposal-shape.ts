import { z } from 'zod';
import { SUPPLY_KINDS } from '../policy/policy.js';
import { PROPOSED_ACTIONS } from '../sizing/choice.js';
import { NEARNESSES } from '../sizing/moves/nearness.js';

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

const couplersSchema = z.object({
  count: z.int().nonnegative(),
  ma: ma.describe('what they draw on the line above together, mA'),
});

const placedDeviceSchema = z.object({
  id: z.string(),
  name: z.string(),
  address: z.string().nullable().describe('as it is now'),
  proposedAddress: z.string().nullable().describe('null where it has none, or its number is taken on the new line'),
  proposedAdditionalAddresses: z.array(z.string()),
});

const newCouplerSchema = z.object({
  lowerMa: ma.describe('drawn of its own line, mA'),
  upperMa: ma.describe('drawn of the line above, mA'),
  isIpEnabled: z.boolean(),
  like: z.string().nullable().describe('id of the coupler whose currents are taken; null: the rule of thumb'),
});

const pieceSchema = z.object({
  line: z.string().describe('area.line'),
  label: z.string().describe('what texts call it'),
  segment: z.string().nullable().describe('id of what stays of it; null for a new line'),
  isNew: z.boolean(),
  coupler: newCouplerSchema.nullable().describe('to be bought; null where none is'),
  loadMa: ma.describe('with its coupler and what cannot be moved, mA'),
  plannedMa: ma.describe('planned and not there yet, mA'),
  places: z.int().nonnegative().describe('devices that it has to bear, couplers among them'),
  action: z.enum(PROPOSED_ACTIONS),
  choice: choiceSchema,
  devices: z.array(placedDeviceSchema).describe('those that could be moved, whether they are or not'),
});

const gapSchema = z.object({
  segments: z.int().nonnegative(),
  torn: z.int().nonnegative(),
  evenMa: ma.describe('of the greatest load, mA'),
});

const planSchema = z.object({
  method: z
    .enum(['optimal', 'within the time', 'heuristic'])
    .describe(
      'optimal: proved in all three; within the time: searched, not proved in all; heuristic: first-fit by group',
    ),
  lowerBound: z.int().describe('no fewer segments would do'),
  gap: gapSchema.describe('what might still be better, at most'),
  torn: z.int().nonnegative().describe('places whose devices are on several lines, each counted beyond its first'),
  pieces: z.array(pieceSchema).describe('what stays first, then the new lines'),
  above: z.object({
    line: z.string().describe('area.line'),
    kind: z.enum(['present', 'new', 'IP']),
    couplers: couplersSchema,
  }),
  beside: z
    .object({ segment: z.string().describe('id'), coupler: newCouplerSchema })
    .nullable()
    .describe('the coupler that the line of the segment needs on another of its segments'),
});

const movesSchema = z.object({
  nearness: z.enum(NEARNESSES).describe('of the device that is farthest from the cable of the other segment'),
  sharedPlaces: z.array(z.string()).describe('what the devices share with it'),
  to: z.string().describe('id of the segment that has room'),
  devices: z.array(z.string()).describe('ids, in the order of the document'),
  movedMa: ma,
  assumedDevices: z.int().nonnegative().describe('of the devices, those of which the current is assumed'),
  assumedMa: ma.describe('the part of movedMa that is theirs, mA'),
  leftMa: ma.describe('left to the target afterwards, with what is planned, mA'),
  leftThereMa: ma.describe('the same of the other segment, mA'),
  isLeast: z.boolean().describe('false where fewer devices might do'),
  isVoltageOpen: z.boolean().describe('voltages after the move are not worked out'),
  conditions: z.array(z.string()),
});

/** A line above that plans need and the export does not have. */
export const newMainLineSchema = z.object({
  project: z.string(),
  installation: z.int().nonnegative(),
  line: z.string().describe('area.line'),
  couplers: z.int().nonnegative(),
  loadMa: ma,
  plannedMa: ma.describe('planned and not there yet, mA'),
  choice: choiceSchema.nullable().describe('null where no supplies from stock carry the couplers'),
});

/** What to do about the supplies of a segment. */
export const proposalSchema = z.object({
  action: z.enum(PROPOSED_ACTIONS),
  because: z.string().nullable().describe('why no single choice serves, or why nothing is proposed'),
  with: z.array(z.string()).describe('ids of the other segments that the proposal is for, as they share the supplies'),
  loadMa: ma.describe('load of all these segments, mA'),
  plannedMa: ma.describe('planned and not there yet, mA'),
  newCouplers: couplersSchema.describe('of lines that are proposed below; their load is in loadMa'),
  choice: choiceSchema.nullable(),
  others: z.array(choiceSchema).describe('what would do as well, next best first'),
  plan: planSchema.nullable().describe('how the segment is split'),
  moves: movesSchema.nullable().describe('devices that could be moved elsewhere instead; null where there is no room'),
  conditions: z.array(z.string()).describe('what the choice or the plan depends on'),
});

/** What the published schemas call the shapes. */
export const NAMED_PROPOSAL: readonly (readonly [shape: z.ZodType, id: string, title: string])[] = [
  [unitSchema, 'ProposedUnit', 'A supply that stays, goes or is bought'],
  [choiceSchema, 'SupplyChoice', 'Supplies that carry a segment'],
  [planSchema, 'SplitPlan', 'A segment split into itself and new lines'],
  [pieceSchema, 'SplitPiece', 'One of the segments that a split leaves'],
  [movesSchema, 'Moves', 'Devices that could be moved to another segment'],
  [proposalSchema, 'Proposal', 'What to do about the supplies of a segment'],
];

export type ReportProposal = z.infer<typeof proposalSchema>;
export type ReportChoice = z.infer<typeof choiceSchema>;
export type ReportPlan = z.infer<typeof planSchema>;
export type ReportMoves = z.infer<typeof movesSchema>;
export type ReportPiece = z.infer<typeof pieceSchema>;
export type ReportNewMainLine = z.infer<typeof newMainLineSchema>;
export type ReportUnit = z.infer<typeof unitSchema>;
