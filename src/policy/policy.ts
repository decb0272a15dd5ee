import { createHash } from 'node:crypto';
import { z } from 'zod';

/**
 * Where a value is from: the bus standard's published volumes, a handbook or other published standard, common practice
 * without a source, memory without confirmation, or derived here from those.
 */
export const BASES = ['standard', 'handbook', 'common practice', 'from memory', 'derived'] as const;

export type Basis = (typeof BASES)[number];

const ma = (description: string) => z.number().positive().describe(description);
const volts = (description: string) => z.number().positive().max(50).describe(description);

/** What the organisation wants: every threshold that the audit applies. */
export const policySchema = z
  .object({
    targetLoad: z.number().gt(0).max(1).describe('share of its capacity to which a supply is planned'),
    assumedCurrentMa: ma('current taken for a device that declares none'),
    ratingsMa: z.array(z.number().positive()).min(1).describe('ratings of the supplies in stock, rising'),
    couplerUpperSide: z
      .enum(['full', 'none'])
      .describe('whether a coupler is charged on the line above as well as on its own'),
    devicesClassic: z.int().positive().describe('devices on a segment that the classic device type allows'),
    devicesGreatest: z.int().positive().describe('devices on a segment that the newer device type allows'),
    leastRatingMa: ma('a rating below this counts as not declared'),
    implausibleAboveMa: ma('a declared current above this is doubted'),
    typicalSupplyV: volts('typical voltage of a supply'),
    leastSupplyV: volts('least voltage of a supply, before its choke'),
    leastDeviceV: volts('least voltage at a device, as installed'),
    loopOhmPerKm: z.number().positive().describe('resistance of the cable, both wires, per kilometre'),
    supplyToDeviceM: z.number().positive().describe('greatest cable length from a supply to a device'),
  })
  .readonly();

export type Policy = z.infer<typeof policySchema>;

/** What most planners do; each value with its source in {@link POLICY_SOURCES}. */
export const COMMON_PRACTICE: Policy = {
  targetLoad: 0.8,
  assumedCurrentMa: 10,
  ratingsMa: [160, 320, 640, 1280],
  couplerUpperSide: 'full',
  devicesClassic: 64,
  devicesGreatest: 256,
  leastRatingMa: 25,
  implausibleAboveMa: 100,
  typicalSupplyV: 30,
  leastSupplyV: 28,
  leastDeviceV: 21,
  loopOhmPerKm: 73.2,
  supplyToDeviceM: 350,
};

/** Where each value of {@link COMMON_PRACTICE} is from. Volumes are those of the bus standard's specification. */
export const POLICY_SOURCES: { readonly [key in keyof Policy]: { readonly basis: Basis; readonly source: string } } = {
  targetLoad: { basis: 'common practice', source: 'common practice, no source: about 80 % is a good working point' },
  assumedCurrentMa: { basis: 'common practice', source: 'common practice, no source: the rule of thumb' },
  ratingsMa: { basis: 'common practice', source: 'common practice, no source: the usual ratings' },
  couplerUpperSide: {
    basis: 'common practice',
    source: 'common practice, no source: a coupler may draw from both its sides',
  },
  devicesClassic: { basis: 'standard', source: 'volume 3/2/2: 64 devices of the classic type per segment' },
  devicesGreatest: { basis: 'standard', source: 'volume 3/2/2: 256 devices of the newer type per segment' },
  leastRatingMa: { basis: 'standard', source: 'volume 9/2 §6: 25 mA is the smallest (decentral) supply' },
  implausibleAboveMa: {
    basis: 'common practice',
    source: 'common practice, no source: real devices draw 2.5 to 60 mA',
  },
  typicalSupplyV: { basis: 'standard', source: 'volume 9/2 §2.2: 28–31 V, typically 30 V' },
  leastSupplyV: { basis: 'standard', source: 'volume 9/2 §2.2: 28–31 V, typically 30 V' },
  leastDeviceV: { basis: 'standard', source: 'volume 3/2/2 §1.2.2: 21 V as installed' },
  loopOhmPerKm: { basis: 'handbook', source: 'VDE 0816: 73.2 Ω/km greatest loop resistance of a 0.8 mm pair' },
  supplyToDeviceM: { basis: 'standard', source: 'volume 9/2 §2.11: 350 m from a supply to a device' },
};

/** SHA-256 over the effective policy: two reports with the same digest judged by the same measures. */
export function policyDigest(policy: Policy): string {
  const ordered = Object.fromEntries(Object.entries(policy).sort(([a], [b]) => (a < b ? -1 : 1)));
  return createHash('sha256').update(JSON.stringify(ordered)).digest('hex');
}
