import { z } from 'zod';
import { VERDICTS } from '../electrical/verdict.js';
import { FEEDS } from '../plant/plant.js';
import { BASES } from '../policy/basis.js';
import { BUILT_IN_NAMES, policySchema, SEVERITIES } from '../policy/policy.js';
import { EN } from '../words/en/words.js';
import { NAMED_PROPOSAL, newMainLineSchema, proposalSchema } from './proposal-shape.js';
import { notScheduledSchema, scheduleRowSchema } from './schedule-shape.js';
import { NAMED_ON_SITE, onSiteSchema } from './site-shape.js';

/**
 * The report: all that an audit says, in the form of the JSON answer. Currents in mA, exact to the microampere. Lists
 * are whole and sorted; the same archive, policy and version give the same bytes.
 */

/** What an audit may be of. */
export const SOURCES = ['archive', 'plan'] as const;

export type Source = (typeof SOURCES)[number];

/** What a device’s current may be from. */
export const ORIGINS = ['declared', 'overridden', 'assumed'] as const;

const count = z.int().nonnegative();
const ma = z.number().describe('mA');
const maOrNull = z.number().nullable().describe('mA; null where the facts do not allow a figure');
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const severity = z.enum(SEVERITIES);
const origin = z.enum(ORIGINS);

const reachSchema = z.object({
  lengthM: z.number().describe('metres of cable, rounded down to decimetres'),
  boundBy: z.enum(['voltage', 'distance']),
});

const reachAtVoltageSchema = z.object({
  supplyV: z.number(),
  allAtEnd: reachSchema.describe('the whole load at the end of the run'),
  evenlySpread: reachSchema.describe('the load spread evenly along the run'),
});

export const deviceSchema = z.object({
  id: z.string(),
  address: z.string().nullable(),
  name: z.string(),
  role: z.string(),
  product: z.string().nullable().describe('null if the archive does not hold it'),
  productId: z.string().nullable(),
  orderNumber: z.string().nullable(),
  manufacturer: z.string().nullable(),
  location: z.string().nullable(),
  currentMa: maOrNull.describe('charged to this segment, mA; null for what is no load here'),
  origin: origin.nullable(),
  assumedBecause: z.string().nullable(),
  chargedAs: z.enum(['participant', 'coupler from below', 'bridge']).nullable(),
});

export const segmentSchema = z.object({
  id: z.string(),
  project: z.string(),
  installation: count,
  line: z.string().describe('area.line'),
  lineName: z.string().nullable(),
  number: count,
  name: z.string().nullable(),
  label: z.string().describe('what texts call it'),
  medium: z.object({
    id: z.string(),
    name: z.string(),
    from: z.enum(['segment', 'line', 'nobody']),
    needsPower: z.boolean(),
  }),
  boundariesKnown: z.boolean(),
  verdict: z.enum(VERDICTS),
  load: z.object({
    declaredMa: ma,
    overriddenMa: ma,
    assumedMa: ma,
    auxiliaryMa: ma.describe('drawn beside the bus from an unchoked output, as the site sheet says, mA'),
    totalMa: ma.describe('declared + overridden + assumed + auxiliary, mA'),
    plannedMa: ma.describe('planned and not there yet; no part of the total, mA'),
    couplersBelowMa: ma.describe('part of the total that couplers of lines below draw here, mA'),
    items: count.describe('items charged; each takes a place on the segment'),
    assumedItems: count,
  }),
  supply: z.object({
    ratedMa: ma.describe('sum of the known ratings, mA'),
    unrated: count,
    capacityMa: maOrNull.describe(
      'what may be drawn, mA; null if a rating is unknown or the combination not admissible',
    ),
    capacityWithoutLargestMa: maOrNull.describe('what is left when the largest supply fails, mA'),
    targetMa: maOrNull.describe('target share of the capacity, mA'),
    shortCircuitMa: ma.describe('sum of the greatest short-circuit currents of the rated central supplies, mA'),
    units: z.array(
      z.object({
        id: z.string(),
        name: z.string(),
        address: z.string().nullable(),
        orderNumber: z.string().nullable(),
        ratedMa: maOrNull,
        kind: z.enum(['plain', 'reporting']),
        board: z.string().nullable().describe('from the site sheet; null where it does not say'),
        mainsCircuit: z.string().nullable().describe('from the site sheet; null where it does not say'),
      }),
    ),
    chokes: z.array(z.string()),
    feed: z
      .enum(FEEDS)
      .describe('by the supplies that stand here, or by those that the site sheet states; unknown where one is gone'),
    shared: z
      .object({
        with: z.array(z.string()).describe('ids of the other segments that the supplies feed'),
        judgedWith: z
          .array(z.string())
          .describe('ids of the segments whose load is judged together, this one included'),
        loadMa: ma.describe('their load, mA'),
        capacityMa: maOrNull.describe('of the supplies that they depend on, mA'),
      })
      .nullable()
      .describe('null where the supplies feed this segment alone'),
  }),
  utilisation: z.number().nullable().describe('load over capacity, as a ratio'),
  headroomMa: maOrNull.describe('target share of the capacity less the load, mA'),
  roomForDevices: count.nullable().describe('further devices at the rule of thumb, bounded by the places left'),
  breakEven: z
    .object({ toTightMa: maOrNull, toInsufficientMa: maOrNull })
    .describe('the average that each assumed item could draw before the verdict turns'),
  sensitivity: z
    .object({
      lowMa: ma.describe('the load if each assumed item drew the policy’s assumedLowMa'),
      highMa: ma.describe('the load if each assumed item drew the policy’s assumedHighMa'),
      atLow: z.enum(VERDICTS),
      atHigh: z.enum(VERDICTS),
    })
    .nullable()
    .describe('the verdict at both ends of what assumed items may draw; null where nothing is assumed'),
  suggestedRatingMa: maOrNull.describe(
    'smallest rating in stock that carries the load, and what is planned, within the target',
  ),
  fanIn: z
    .object({ classSumMa: ma, nominalMa: maOrNull, weight: count })
    .nullable()
    .describe('the standard’s own count: sum of current classes and of device weights'),
  reach: z.object({ typical: reachAtVoltageSchema, least: reachAtVoltageSchema }).nullable(),
  onSite: onSiteSchema.nullable().describe('what the site sheet adds; null where it has no entry for the segment'),
  proposal: proposalSchema,
  devices: z.array(deviceSchema),
  notes: z.array(z.string()).describe('what was taken because the export does not say it'),
});

const factSchema: z.ZodType<unknown> = z.union([
  z.string(),
  z.number(),
  z.boolean(),
  z.null(),
  z.array(z.lazy(() => factSchema)),
  z.record(
    z.string(),
    z.lazy(() => factSchema),
  ),
]);

const measureSchema = z.object({
  quantity: z.string(),
  unit: z.string(),
  value: z.number().nullable().describe('null where nobody knows it'),
  limit: z.number().nullable().describe('null where nobody knows it'),
  holds: z.enum(['at most', 'at least', 'below']).describe('which side of the limit is right'),
  share: z.number().nullable().describe('the value as a share of the whole, where one is usual'),
  margin: z.number().nullable().describe('how far the value is on the right side of the limit; negative if beyond'),
  flipsAt: z.number().nullable().describe('the value at which the finding turns'),
  breakEvenMa: maOrNull.describe('the average of the assumed currents at which the finding turns'),
  limitFrom: z.object({
    basis: z.enum(BASES),
    source: z.string(),
    setBy: z.string().nullable().describe('which policy set it, or the waivers file; null where the rule did'),
    key: z.string().nullable().describe('the policy’s value that the limit is made with'),
  }),
});

const locationSchema = z.object({
  part: z.string().describe('part of the archive'),
  line: z.number().nullable().describe('line of the part, from 1'),
});

export const BASELINE_STATES = ['new', 'worsened', 'improved', 'unchanged'] as const;

const waiverMarkSchema = z.object({
  reason: z.string(),
  author: z.string(),
  expires: z.string().describe('the last day on which it counts, UTC'),
  accepted: z.string().nullable(),
  raiseAbove: z.string().nullable(),
});

export const findingSchema = z.object({
  rule: z.string(),
  severity,
  fingerprint: z.string().describe('stable identity of the finding: same rule, same subject'),
  project: z.string(),
  installation: count,
  subject: z.object({
    kind: z.enum(['segment', 'line', 'device', 'product', 'address', 'project', 'waiver']),
    id: z.string().describe('the archive’s id; of a waiver the fingerprint that it is for'),
    label: z.string(),
  }),
  segments: z.array(z.string()).describe('ids of the segments concerned'),
  restsOn: origin.describe('weakest origin of the currents that the finding rests on'),
  measure: measureSchema,
  location: locationSchema,
  waiver: waiverMarkSchema.nullable().describe('why the finding is accepted; null if it is not'),
  sinceBaseline: z.enum(BASELINE_STATES).nullable().describe('against the baseline; null where there is none'),
  message: z.string(),
  remedy: z.string(),
  facts: z.record(z.string(), factSchema),
});

export const ruleSchema = z.object({
  id: z.string(),
  title: z.string(),
  severity,
  inForce: z.enum([...SEVERITIES, 'off']).describe('what the policy makes of it'),
  why: z.string(),
  remedy: z.string(),
  limit: z.string(),
  basis: z.enum(BASES),
  source: z.string(),
});

const coverageSchema = z.object({
  rule: z.string(),
  project: z.string(),
  installation: count,
  segment: z.string().nullable().describe('segment id; null for the installation as a whole'),
  status: z.enum(['passed', 'found', 'skipped', 'failed', 'off']),
  missing: z.string().nullable().describe('the fact that was missing, where skipped'),
});

const unknownSchema = z.object({
  productId: z.string(),
  product: z.string().nullable().describe('null if the archive does not hold it'),
  orderNumber: z.string().nullable(),
  manufacturer: z.string().nullable(),
  wanted: z.enum(['current', 'rating']).describe('what the data sheet has to say'),
  because: z.string().describe('why what the archive says does not do'),
  declared: z.string().nullable().describe('as the archive has it'),
  chargedMa: maOrNull.describe('what each is charged with meanwhile, mA'),
  devices: count,
  places: z.array(
    z.object({
      segment: z.string(),
      segmentId: z.string(),
      devices: count,
      verdict: z.enum(VERDICTS),
      toTightMa: maOrNull,
      toInsufficientMa: maOrNull,
    }),
  ),
  turnsAtMa: maOrNull.describe(
    'of a current the value nearest to what is charged at which a verdict turns, of a rating the least that carries every segment, mA',
  ),
});

const projectSchema = z.object({
  id: z.string(),
  name: z.string().nullable(),
  schema: count.nullable().describe('of the export; null for a plan'),
  schemaKnown: z.boolean(),
  installations: z.array(
    z.object({
      number: count,
      name: z.string().nullable(),
      part: z.string(),
      segments: count,
      devicesPlaced: count,
      devicesUnplaced: count,
      notes: z.array(z.string()),
    }),
  ),
});

const perVerdict = z.object(Object.fromEntries(VERDICTS.map((verdict) => [verdict, count])));
const perSeverity = z.object(Object.fromEntries(SEVERITIES.map((name) => [name, count])));

export const reportSchema = z.object({
  reportVersion: z.literal(1),
  tool: z.object({ name: z.string(), version: z.string() }),
  source: z.enum(SOURCES).default('archive').describe('what was audited'),
  archive: z
    .object({
      sha256,
      bytes: count,
      parts: z
        .array(z.object({ name: z.string(), bytes: count, crc32: z.string() }))
        .describe('the parts that were read; none of a plan'),
    })
    .describe('the archive, or the plan, as a file'),
  policy: z.object({
    sha256,
    extends: z.enum(BUILT_IN_NAMES),
    values: policySchema,
    setBy: z.record(z.string(), z.string()).describe('which policy set a value'),
    sources: z.record(z.string(), z.string()).describe('where a value is from'),
    products: z
      .array(z.object({ entry: count, productIds: z.array(z.string()), devices: count, note: z.string() }))
      .describe('what came of each entry about products, by its position'),
    growth: z
      .array(z.object({ entry: count, segments: count }))
      .describe('for how many segments each entry about growth counts, by its position'),
  }),
  site: z
    .object({ sha256 })
    .nullable()
    .describe('digest of the site sheet and the measured values; null where none was given'),
  asOf: z.string().nullable().describe('the day on which waivers were judged, UTC; null where there are none'),
  baseline: z
    .object({ sha256: sha256.describe('of the archive that it is of'), policySha256: sha256, tool: z.string() })
    .nullable()
    .describe('the earlier report that findings are held against'),
  summary: z.object({
    complete: z.boolean().describe('false if a rule failed by our own fault: then something may be missing'),
    segments: perVerdict,
    findings: perSeverity.describe('without those that are waived'),
    waived: count,
    checks: count.describe('rules that judged something, by segment: where it is 0, nothing was checked'),
    devicesPlaced: count,
    devicesUnplaced: count,
    currents: z
      .object({ declared: count, overridden: count, assumed: count })
      .describe('items of load by the origin of their current'),
  }),
  projects: z.array(projectSchema),
  segments: z.array(segmentSchema),
  findings: z.array(findingSchema).describe('worst first'),
  unknowns: z.array(unknownSchema).describe('products whose data sheet has to be looked up'),
  newMainLines: z.array(newMainLineSchema).describe('lines above that splits need and the export does not have'),
  schedule: z.array(scheduleRowSchema).describe('the supplies to be ordered, kept and taken out, by place'),
  notScheduled: z.array(notScheduledSchema).describe('segments that the schedule lacks supplies for, and why'),
  coverage: z.array(coverageSchema),
  rules: z.array(ruleSchema),
  caution: z.string(),
});

/** What the published schemas call the shapes. */
const NAMED: readonly (readonly [shape: z.ZodType, id: string, title: string])[] = [
  [reachSchema, 'Reach', 'How far the cable may run'],
  [reachAtVoltageSchema, 'ReachAtVoltage', 'Reach at one voltage of the supply'],
  [deviceSchema, 'Device', 'A device on a segment, or a coupler that another segment charges to it'],
  ...NAMED_ON_SITE,
  ...NAMED_PROPOSAL,
  [segmentSchema, 'Segment', 'An electrical segment with its load, its supply and the verdict'],
  [measureSchema, 'Measure', 'The figure that a finding hangs on, and what it is held against'],
  [waiverMarkSchema, 'WaiverMark', 'Why a finding is accepted'],
  [factSchema, 'Fact', 'A number, a text or a flag, or a list or mapping of these'],
  [findingSchema, 'Finding', 'What is wrong, where, and what to do about it'],
  [ruleSchema, 'Rule', 'What a rule looks for, why, and where its limit is from'],
  [coverageSchema, 'Coverage', 'How a rule ended on a segment'],
  [unknownSchema, 'UnknownProduct', 'A product whose data sheet has to be looked up'],
  [scheduleRowSchema, 'ScheduleRow', 'Supplies of one sort at one place, and what becomes of them'],
  [notScheduledSchema, 'NotScheduled', 'Segments that the schedule lacks supplies for'],
  [projectSchema, 'Project', 'A project of the archive'],
];
for (const [shape, id, title] of NAMED) z.globalRegistry.add(shape, { id, title });

export type Report = z.infer<typeof reportSchema>;
export type ReportSegment = z.infer<typeof segmentSchema>;
export type ReportDevice = z.infer<typeof deviceSchema>;
export type ReportFinding = z.infer<typeof findingSchema>;
export type ReportProject = z.infer<typeof projectSchema>;
export type ReportMeasure = z.infer<typeof measureSchema>;
export type ReportUnknown = z.infer<typeof unknownSchema>;
export type WaiverMark = z.infer<typeof waiverMarkSchema>;
export type ReportRule = z.infer<typeof ruleSchema>;

/** Stands on every report and in the README, here in English. */
export const CAUTION = EN.report.caution;
