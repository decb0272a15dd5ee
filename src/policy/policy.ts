import { z } from 'zod';
import { line, list, number, oneOf, section, wholeNumber } from '../documents/shape.js';
import { isPattern, MOST_PATTERNS, productOverrideSchema } from './overrides.js';
import { RULE_IDS, type RuleId } from './rule-ids.js';

/** How much a finding weighs, worst first. */
export const SEVERITIES = ['error', 'warning', 'note'] as const;

export type Severity = (typeof SEVERITIES)[number];

export const DEVICE_MODELS = ['constant current', 'constant power'] as const;

export const SUPPLY_KINDS = ['plain', 'reporting', 'redundant'] as const;

/** Currents are whole microamperes inside, so that less than one would be none. */
const ma = (what: string) => number({ least: 0.001, most: 10_000 }, what);
const volts = (what: string) => number({ over: 0, most: 50 }, what);

/** Without quotation marks YAML reads 1.2 as a number, and 1.10 as 1.1. */
const LINE_PATTERN = 'a text in quotation marks: area.line such as "1.2", with * for any number, or "*" for all lines';

const STOCK = section({
  ratingMa: ma('rated output, mA'),
  kinds: list(oneOf(SUPPLY_KINDS), 'kinds of supplies').describe('in which kinds it is to be had'),
  railUnits: number({ over: 0, most: 100 }, 'width on the rail, in units of 18 mm').optional(),
  price: number(
    { least: 0.01, most: 1_000_000 },
    'of one, in the currency of the office, to the hundredth; the least price decides only where all entries have one',
  ).optional(),
  orderNumber: line(100, 'what is ordered').optional(),
});

const GROWTH = section({
  line: z
    .string({ error: LINE_PATTERN })
    .regex(/^(\*|(\d{1,2}|\*)\.(\d{1,2}|\*))$/, { error: LINE_PATTERN })
    .describe('the lines, as area.line; * stands for any number, or alone for all lines'),
  devices: wholeNumber(
    { least: 0, most: 256 },
    'devices planned for each segment, charged at the rule of thumb',
  ).default(0),
  reserveMa: number({ least: 0, most: 10_000 }, 'current kept free on each segment beside that, mA').default(0),
});

const SEVERITY_OF_RULES = section(
  Object.fromEntries(RULE_IDS.map((id) => [id, oneOf([...SEVERITIES, 'off']).optional()])) as unknown as Record<
    RuleId,
    z.ZodOptional<z.ZodType<Severity | 'off'>>
  >,
);

/** The most entries that a policy may list of a kind. */
const MOST_ENTRIES = 5000;

/** What the organisation wants: every threshold that the audit applies. */
export const policySchema = section({
  targetLoad: number({ over: 0, most: 1 }, 'share of its capacity to which a supply is planned'),
  assumedCurrentMa: ma('current taken for a device that declares none, mA'),
  assumedLowMa: ma('what a device that declares none draws at least, mA'),
  assumedHighMa: ma('what a device that declares none draws at most, mA'),
  stock: list(STOCK, 'supplies', 100)
    .min(1, { error: 'a list of at least one supply' })
    .describe('supplies that may be ordered'),
  couplerUpperSide: oneOf(['full', 'none'], 'whether a coupler is charged on the line above as well as on its own'),
  devicesClassic: wholeNumber({ least: 1, most: 1000 }, 'devices on a segment that the classic device type allows'),
  devicesGreatest: wholeNumber({ least: 1, most: 1000 }, 'devices on a segment that the newer device type allows'),
  leastRatingMa: ma('a rating below this counts as not declared, mA'),
  implausibleAboveMa: ma('a declared current above this is doubted, mA'),
  typicalSupplyV: volts('typical voltage of a supply'),
  leastSupplyV: volts('least voltage of a supply, before its choke'),
  leastDeviceV: volts('least voltage at a device, as installed'),
  hardDeviceV: volts('voltage at which a device must still work'),
  deviceModel: oneOf(
    DEVICE_MODELS,
    'what a device draws where the voltage is low: the same current, or more, as its power stays the same',
  ),
  loopOhmPerKm: number({ over: 0, most: 10_000 }, 'resistance of the cable, both wires, per kilometre'),
  supplyToDeviceM: number({ over: 0, most: 10_000 }, 'greatest cable length from a supply to a device, m'),
  cablePerSegmentM: number({ over: 0, most: 10_000 }, 'greatest length of all cable of a segment, m'),
  deviceToDeviceM: number({ over: 0, most: 10_000 }, 'greatest cable length between two devices of a segment, m'),
  chokesApartM: number(
    { least: 0, most: 10_000 },
    'least cable length between two supplies with chokes of their own, m',
  ),
  measuredShare: number({ over: 0, most: 1 }, 'by which share a measured current may differ from the computed one'),
  measuredV: number({ over: 0, most: 10 }, 'by how much a measured voltage may differ from the computed one, V'),
  growth: list(GROWTH, 'planned additions', MOST_ENTRIES).describe(
    'what is planned for a segment; of several entries for its line the last one counts',
  ),
  severities: SEVERITY_OF_RULES.describe('how much the findings of a rule weigh, or off'),
  products: list(productOverrideSchema, 'products', MOST_ENTRIES)
    .refine((entries) => entries.filter(isPattern).length <= MOST_PATTERNS, {
      error: `at most ${MOST_PATTERNS} entries with a *`,
    })
    .describe(
      'what is known of products that the archive does not say; of several entries for a product the first one counts',
    ),
}).meta({ id: 'Policy', title: 'The values that were applied' });

export type Policy = z.infer<typeof policySchema>;
export type PolicyKey = keyof Policy;
export type PlannedGrowth = Policy['growth'][number];
export type SupplyKind = (typeof SUPPLY_KINDS)[number];

/** What the policy sets for a rule, where it sets anything. @param rule its id, which may be of no rule that it knows */
export function severitySet(rule: string, { severities }: Policy): Severity | 'off' | undefined {
  return severities[rule as RuleId];
}

/** The policies that are built in; a policy file may extend one of them. */
export const BUILT_IN_NAMES = ['common-practice', 'conservative', 'standard'] as const;

export type BuiltInName = (typeof BUILT_IN_NAMES)[number];

/** A policy as a person writes it: what differs from the one that it extends. */
export const policyFileSchema = section({
  $schema: line(500, 'where an editor finds the JSON Schema').optional(),
  extends: oneOf(BUILT_IN_NAMES, 'the built-in policy that this one changes').optional(),
  ...policySchema.partial().shape,
});
