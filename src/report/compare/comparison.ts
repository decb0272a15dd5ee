import { z } from 'zod';
import { VERDICTS } from '../../electrical/verdict.js';
import { SEVERITIES } from '../../policy/policy.js';
import { deviceSchema, findingSchema } from '../report.js';

/** The comparison of two reports: what an earlier audit said, and what a later one says. Currents in mA. */

export const MATCHED_BY = ['identity', 'line number'] as const;

export type MatchedBy = (typeof MATCHED_BY)[number];

const count = z.int().nonnegative();
const maOrNull = z.number().nullable().describe('mA; null where the facts do not allow a figure');
const matchedBy = z
  .enum(MATCHED_BY)
  .describe('identity: by the ids of the archive; line number: by address, as the ids have changed');
const sameOrNot = z.enum(['same', 'differs']);

const sideSchema = z.object({
  archiveSha256: z.string(),
  policySha256: z.string(),
  siteSha256: z.string().nullable().describe('of the site sheet; null where there was none'),
  toolVersion: z.string().describe('name and version of the tool that made the report'),
  asOf: z.string().nullable().describe('the day on which waivers were judged, UTC; null where there are none'),
  complete: z.boolean().describe('false if a rule failed; then changes may be none'),
  checks: count.describe('rules that judged something; where it is 0, nothing was checked'),
});

const findingSideSchema = z.object({
  severity: z.enum(SEVERITIES),
  measure: findingSchema.shape.measure.pick({
    quantity: true,
    unit: true,
    value: true,
    limit: true,
    holds: true,
    margin: true,
  }),
  waived: z.boolean(),
});

const findingChangeSchema = z.object({
  rule: z.string(),
  subject: z.string().describe('its label, in the new report where it stands there'),
  message: z.string(),
  remedy: z.string(),
  fingerprint: z.string(),
  matchedBy: matchedBy.nullable().describe('null where it stands in one report only'),
  cause: z
    .enum(['archive', 'policy', 'both', 'changes'])
    .nullable()
    .describe('what made the change; null where reports alone were compared, which do not tell'),
  old: findingSideSchema.nullable(),
  new: findingSideSchema.nullable(),
});

const deviceSideSchema = z.object({
  label: z.string(),
  product: z.string().nullable().describe('null if the archive does not hold it'),
  productId: z.string().nullable(),
  currentMa: maOrNull.describe('charged to the segment, mA; null for what is no load there'),
});

const segmentSideSchema = z.object({
  id: z.string(),
  project: z.string(),
  installation: count,
  label: z.string(),
  verdict: z.enum(VERDICTS),
  loadMa: z.number().describe('mA'),
  capacityMa: maOrNull,
  utilisation: z.number().nullable().describe('load over capacity, as a ratio'),
  headroomMa: maOrNull.describe('to the target, mA; null where the facts do not allow a figure'),
});

const segmentChangeSchema = z.object({
  matchedBy,
  old: segmentSideSchema,
  new: segmentSideSchema,
  devicesAdded: z.array(deviceSideSchema),
  devicesRemoved: z.array(deviceSideSchema),
  devicesChanged: z.array(z.object({ matchedBy, old: deviceSideSchema, new: deviceSideSchema })),
});

const understoodSchema = z.object({
  action: z.enum(['added', 'removed']),
  count: count.describe('how many'),
  segment: z.string().describe('what texts call it'),
  ...deviceSchema.pick({ product: true, productId: true, orderNumber: true, currentMa: true, origin: true }).shape,
  ratedMa: maOrNull.describe('of each supply, mA; null for what is none, or does not declare it'),
  location: z.string().nullable().describe('null where the change names none'),
  text: z.string(),
});

export const comparisonSchema = z.object({
  comparisonVersion: z.literal(1),
  tool: z.object({ name: z.string(), version: z.string() }).describe('what made the comparison'),
  old: sideSchema,
  new: sideSchema,
  inputs: z
    .object({ archive: sameOrNot, policy: sameOrNot, site: sameOrNot, tool: sameOrNot, asOf: sameOrNot })
    .describe('what the two audits were made of'),
  changes: z
    .array(understoodSchema)
    .nullable()
    .describe('what was changed about the plant in between, as it was understood; null where nothing was asked'),
  findings: z.object({
    new: z.array(findingChangeSchema),
    fixed: z.array(findingChangeSchema),
    worsened: z.array(findingChangeSchema),
    improved: z.array(findingChangeSchema),
    unchanged: count,
  }),
  segments: z.array(segmentChangeSchema).describe('in both reports, with a difference'),
  segmentsAdded: z.array(segmentSideSchema),
  segmentsRemoved: z.array(segmentSideSchema),
  segmentsUnchanged: count,
});

export type Comparison = z.infer<typeof comparisonSchema>;
export type ComparedReport = Comparison['old'];
export type Understood = z.infer<typeof understoodSchema>;
export type FindingChange = z.infer<typeof findingChangeSchema>;
export type FindingSide = z.infer<typeof findingSideSchema>;
export type Cause = NonNullable<FindingChange['cause']>;
export type SegmentChange = z.infer<typeof segmentChangeSchema>;
export type SegmentSide = z.infer<typeof segmentSideSchema>;
export type DeviceSide = z.infer<typeof deviceSideSchema>;

/** The JSON Schema (2020-12) of the comparison, made from the shape that it is checked with. */
export function comparisonJsonSchema(): object {
  return {
    $id: 'urn:linebudget:schema:comparison:1',
    title: 'Linebudget comparison, version 1',
    ...z.toJSONSchema(comparisonSchema, { target: 'draft-2020-12' }),
  };
}
