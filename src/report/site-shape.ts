import { z } from 'zod';
import { CAUSE_KINDS } from '../electrical/diagnose/kinds.js';
import { VOLTAGE_VERDICTS } from '../electrical/voltage/voltage.js';

/** The part of the report that a site sheet makes possible. Lengths in m, voltages in V, currents in mA. */

const v = z.number().nullable().describe('V; null where the facts do not allow a figure');

const boundsSchema = z
  .object({
    leastM: z.number().nullable(),
    mostM: z.number().nullable(),
  })
  .describe('true bounds, m; equal where the length is known, null where nothing bounds it');

const bandSchema = z.object({ lowV: v, highV: v }).describe('true bounds; equal where everything is placed');

const voltageCaseSchema = z.object({
  supplyV: z.number().describe('lowest terminal voltage of the supplies without load, V'),
  unfavourableV: v.describe('lowest voltage at the worst that the known facts admit, V'),
  favourableV: v.describe('lowest voltage at the best that they admit, V'),
  estimateV: v.describe('lowest voltage with what is not placed spread evenly: an estimate, no bound, V'),
  point: z.string().nullable().describe('where the lowest voltage is'),
  because: z.string().nullable().describe('why there is no working point, where there is none'),
});

const profilePointSchema = z.object({
  name: z.string().nullable().describe('of the point in the site sheet; null for a place that only a distance tells'),
  distanceM: z.number().nullable().describe('along the cable to the nearest supply, m'),
  typical: bandSchema,
  least: bandSchema,
});

const voltagesSchema = z.object({
  basis: z.enum(['all placed', 'runs, not all placed', 'length only']).describe('what the figures rest on'),
  verdict: z.enum(VOLTAGE_VERDICTS),
  typical: voltageCaseSchema,
  least: voltageCaseSchema,
  profile: z
    .object({
      points: z.array(profilePointSchema),
      joins: z.array(z.object({ from: z.int(), to: z.int() })).describe('which points are joined, by position'),
    })
    .describe('voltage along the cable, to be drawn'),
});

const holdUpSchema = z.object({
  wantedHours: z.number(),
  busMa: z.number().describe('what all that the supplies carry draws, mA'),
  batteryV: z.number().describe('voltage of the battery, V'),
  batteryMa: z.number().describe('drawn from the battery, mA'),
  neededAh: z.number().describe('capacity for the wanted hours, Ah'),
  capacityAh: z.number().nullable().describe('of the given battery; null where none is given'),
  lastsHours: z
    .number()
    .nullable()
    .describe('how long the given battery lasts; null without its capacity, or if nothing is drawn'),
  holds: z.boolean().nullable().describe('null without its capacity, or if it is too cold to tell'),
  factors: z.object({
    ageing: z.number(),
    temperature: z.number(),
    efficiency: z.number(),
    peukert: z.number(),
    ratedHours: z.number(),
  }),
  assumed: z.array(z.string()),
  methods: z.array(z.string()),
  caution: z.string(),
});

const expectedSchema = z.object({
  connectedBy: z.enum(['site sheet', 'loaded', 'nobody']).describe('how it is known which devices are connected'),
  readings: z
    .array(
      z.object({
        quantity: z.enum(['current', 'voltage']),
        unit: z.enum(['mA', 'V']),
        supplies: z.array(z.string()).describe('ids of the supplies that a current is of, all together'),
        at: z.string().describe('the supplies, or the point of the cable'),
        point: z.string().nullable().describe('of the site sheet; null for a current, and for the far end'),
        expected: z.number().nullable().describe('null where only bounds are known'),
        low: z.number().nullable(),
        high: z.number().nullable(),
        measured: z.number().nullable().describe('null where nothing was measured'),
      }),
    )
    .describe('what a meter should show, and what it did'),
});

const figureSchema = z.object({
  low: z.number().nullable().describe('null for an open circuit'),
  high: z.number().nullable().describe('the same as low for a single figure; null for an open circuit, or no bound'),
});

const causeSchema = z.object({
  kind: z.enum(CAUSE_KINDS),
  text: z.string(),
  fit: z.number().describe('1: as computed; towards 0 the less it fits'),
  misfits: z.array(z.object({ what: z.string(), measured: z.number(), computed: z.number(), unit: z.string() })),
  next: z
    .object({
      measure: z.string(),
      here: figureSchema.describe('what it would show if this were the cause'),
      otherwise: figureSchema.describe('and if the other one were'),
      unit: z.string(),
      against: z.enum(CAUSE_KINDS).describe('kind of the other one'),
      againstRank: z.int().positive().describe('which of the causes listed the other one is, 1 being the first'),
    })
    .nullable()
    .describe('the measurement that tells this cause from the others'),
});

const diagnosisSchema = z.object({
  observations: z.array(
    z.object({
      what: z.string(),
      unit: z.string().nullable(),
      value: z.number().nullable(),
      tolerance: z.number().nullable(),
    }),
  ),
  causes: z.array(causeSchema).describe('best fit first'),
  further: z.int().nonnegative().describe('how many more fit a little less, and are not listed'),
  missing: z.array(z.string()).describe('what keeps further causes from being computed'),
});

/** What the site sheet adds to a segment. */
export const onSiteSchema = z.object({
  entry: z.string().describe('where the site sheet says it'),
  critical: z.boolean().nullable().describe('null where the sheet does not say'),
  monitoring: z.boolean().nullable().describe('null where the sheet does not say'),
  cable: z.object({
    totalM: boundsSchema.describe('all cable'),
    supplyToDeviceM: boundsSchema.describe('greatest distance of a device from its nearest supply'),
    deviceToDeviceM: boundsSchema.describe('greatest distance between two devices'),
    chokesApartM: boundsSchema.nullable().describe('least distance between two chokes; null where there are not two'),
    wanted: z.array(z.string()).describe('what would make the bounds narrower'),
  }),
  voltages: voltagesSchema.nullable().describe('null where nothing is known of the cable, or of what feeds it'),
  plannedVoltages: voltagesSchema
    .nullable()
    .describe('the same with what the sheet plans; null where it plans nothing'),
  holdUp: holdUpSchema.nullable().describe('null where none is wanted'),
  expected: expectedSchema.nullable().describe('null where nothing feeds the segment, or nothing hangs on it'),
  diagnosis: diagnosisSchema.nullable().describe('what fits the measured values; null where nothing was measured'),
});

/** What the published schemas call the shapes. */
export const NAMED_ON_SITE: readonly (readonly [shape: z.ZodType, id: string, title: string])[] = [
  [bandSchema, 'VoltageBand', 'Between which bounds a voltage lies'],
  [voltageCaseSchema, 'VoltageCase', 'The lowest voltage on a segment, at one voltage of the supplies'],
  [voltagesSchema, 'Voltages', 'The voltages along the cable of a segment'],
  [holdUpSchema, 'HoldUp', 'What a wanted hold-up comes to'],
  [expectedSchema, 'Expected', 'What is to be measured on a segment'],
  [diagnosisSchema, 'Diagnosis', 'What fits the values that were measured'],
  [onSiteSchema, 'OnSite', 'What the site sheet adds to a segment'],
];

export type ReportOnSite = z.infer<typeof onSiteSchema>;
