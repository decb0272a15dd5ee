import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { builtIn, DEFAULT_POLICY, type EffectivePolicy, readPolicy } from '../../src/policy/effective.js';
import type { PolicyKey } from '../../src/policy/policy.js';
import { PLANT_RULE_IDS } from '../../src/policy/rule-ids.js';
import { reportMeasure, waiverMeasure } from '../../src/report/measure.js';
import { RULES } from '../../src/rules/index.js';
import type { Measure, PlantRule, Rule } from '../../src/rules/rule.js';
import type { Battery } from '../../src/site/site.js';
import { zip } from '../support/archives.js';
import {
  check,
  choke,
  consumer,
  consumers,
  coupler,
  type DeviceSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';
import { plantParts } from '../support/random-plants.js';
import { randomPlant } from '../support/random-specs.js';
import { oldForm, only, onMedium, repeater } from '../support/rules.js';
import { lineLayout, onSite } from '../support/site-plants.js';

function ruleOf(id: string): PlantRule {
  const found = RULES.find((rule) => rule.id === id);
  if (found === undefined || found.scope === 'waivers') throw new Error(`no rule ${id} about the plant`);
  return found;
}

/** The figure of the first finding of a rule. */
function measureOf(id: string, plant: PlantSpec, policy: EffectivePolicy = DEFAULT_POLICY) {
  const rule = ruleOf(id);
  const [finding] = check(rule, plant).findings;
  if (finding === undefined) throw new Error(`${id} finds nothing`);
  return reportMeasure(finding.measure, rule, policy);
}

const silent = (n: number): DeviceSpec[] => Array.from({ length: n }, (_, index) => ({ address: 100 + index }));

interface Expected {
  readonly value: number | null;
  readonly limit: number | null;
  readonly holds: Measure['holds'];
  readonly margin: number | null;
  readonly share?: number;
  readonly breakEvenMa?: number;
  /** The value of the policy that the limit is made with. */
  readonly key?: PolicyKey;
}

/** Lossless at the voltage of the bus; of its 5 Ah a quarter less is left with age. */
const BATTERY: Battery = {
  capacityAh: 5,
  voltageV: 30,
  efficiency: 1,
  ownA: 0,
  temperatureC: 25,
  peukert: 1.2,
  ratedHours: 5,
};

/** For each rule a plant in which it finds something, and the figure of that; sums beside those that are no count. */
const FIGURES: readonly (readonly [rule: string, plant: PlantSpec, figure: Expected])[] = [
  [
    'overloaded-segment',
    only([supply(320), consumer(1, 336)]),
    { value: 336, limit: 320, holds: 'at most', margin: -16, share: 1.05 },
  ],
  [
    'overloaded-segment',
    only([supply(320), consumer(1, 305), ...silent(2)]), // 305 + 2 × 10; (320 − 305) / 2
    { value: 325, limit: 320, holds: 'at most', margin: -5, share: 1.015625, breakEvenMa: 7.5 },
  ],
  [
    'auxiliary-overload',
    onSite([supply(320), consumer(1, 304)], { auxiliaryUa: 32_000 }),
    { value: 336, limit: 320, holds: 'at most', margin: -16, share: 1.05 },
  ],
  ['missing-supply', only([consumer(1, 10)]), { value: 1, limit: 0, holds: 'at most', margin: -1 }],
  [
    'low-headroom',
    only([supply(320), consumer(1, 256.5)]),
    { value: 256.5, limit: 256, holds: 'at most', margin: -0.5, share: 0.801563, key: 'targetLoad' },
  ],
  [
    'growth-exceeds-supply',
    only([supply(320), consumer(1, 250)], { growth: [{ line: '*', devices: 1, reserveMa: 4 }] }),
    { value: 264, limit: 256, holds: 'at most', margin: -8, share: 0.825, key: 'targetLoad' },
  ],
  [
    'assumption-decides',
    only([supply(320), consumer(1, 200), ...silent(5)]), // 200 + 5 × 12; (256 − 200) / 5
    { value: 260, limit: 256, holds: 'at most', margin: -4, breakEvenMa: 11.2, key: 'assumedHighMa' },
  ],
  [
    'supply-rating-unknown',
    only([supply(24.999), consumer(1, 10)]),
    { value: 24.999, limit: 25, holds: 'at least', margin: -0.001, key: 'leastRatingMa' },
  ],
  [
    'supply-rating-unknown',
    only([supply(), consumer(1, 10)]),
    { value: null, limit: 25, holds: 'at least', margin: null, key: 'leastRatingMa' },
  ],
  ['feed-unknown', only([choke(), consumer(1, 10)]), { value: 10, limit: null, holds: 'at most', margin: null }],
  [
    'segment-boundaries-unknown',
    oldForm([supply(640), consumer(1, 10), repeater(64)]),
    { value: 2, limit: 0, holds: 'at most', margin: -2 },
  ],
  [
    'too-many-supplies',
    only([supply(160), supply(160), supply(160)]),
    { value: 3, limit: 2, holds: 'at most', margin: -1 },
  ],
  [
    'too-many-supplies',
    only(Array.from({ length: 10 }, () => supply(80))),
    { value: 10, limit: 8, holds: 'at most', margin: -2 },
  ],
  // Volume 9/2, figure 3: 3000 mA + 1000 mA.
  [
    'short-circuit-sum',
    only([supply(1280), supply(160)]),
    { value: 4000, limit: 3000, holds: 'at most', margin: -1000 },
  ],
  [
    'voltage-too-low',
    onSite([supply(640), consumer(1, 301)], { layout: lineLayout([250], [0, 1]) }), // 26.5 − 18.3 · 0.301 V
    { value: 20.991, limit: 21, holds: 'at least', margin: -0.009, key: 'leastDeviceV' },
  ],
  [
    'measured-deviates',
    onSite([supply(640), consumer(1, 100)], {
      connected: new Set(['P-0001-0_DI-2']),
      measured: { currents: [{ supply: 'P-0001-0_DI-1', ua: 121_000 }], voltages: [], symptom: null },
    }),
    { value: 121, limit: 120, holds: 'at most', margin: -1, key: 'measuredShare' },
  ],
  [
    'site-sheet-stale',
    {
      ...only([supply(640), consumer(1, 100)]),
      sheet: { archive: 'b'.repeat(64), segments: [{ segment: '1.1', connected: ['1.1.7'] }] },
    },
    { value: 1, limit: 0, holds: 'at most', margin: -1 },
  ],
  [
    'cable-too-long',
    onSite([supply(640)], { totalLengthM: 1200 }),
    { value: 1200, limit: 1000, holds: 'at most', margin: -200, key: 'cablePerSegmentM' },
  ],
  [
    'supply-too-far',
    onSite([supply(640), consumer(1, 10)], { farthestM: 360 }),
    { value: 360, limit: 350, holds: 'at most', margin: -10, key: 'supplyToDeviceM' },
  ],
  [
    'devices-too-far-apart',
    onSite([supply(640), consumer(1, 10), consumer(2, 10)], { layout: lineLayout([720], [0, 0, 1]) }),
    { value: 720, limit: 700, holds: 'at most', margin: -20, key: 'deviceToDeviceM' },
  ],
  [
    'supplies-too-close',
    onSite(
      [supply(320), supply(320)],
      { totalLengthM: 150 },
      { supplies: { 1: { choke: 'own' }, 2: { choke: 'own' } } },
    ),
    { value: 150, limit: 200, holds: 'at least', margin: -50, key: 'chokesApartM' },
  ],
  [
    'supply-not-redundant',
    onSite([supply(320), supply(160), consumer(1, 150), ...silent(2)], { isCritical: true }), // 150 + 2 × 10
    { value: 170, limit: 160, holds: 'at most', margin: -10 },
  ],
  [
    'supply-not-redundant',
    onSite(
      [supply(320), supply(320), consumer(1, 10)],
      { isCritical: true },
      { supplies: { 1: { mainsCircuit: 'F1' }, 2: { mainsCircuit: 'F1' } } },
    ),
    { value: 1, limit: 2, holds: 'at least', margin: -1 },
  ],
  [
    'supply-not-reporting',
    onSite([supply(320), consumer(1, 10)], { wantsReporting: true }),
    { value: 0, limit: 1, holds: 'at least', margin: -1 },
  ],
  [
    'hold-up-too-short',
    onSite([supply(640), consumer(1, 500)], { holdUp: { hours: 10, battery: BATTERY, peak: null } }), // 4 Ah of 0.5 A
    { value: 8, limit: 10, holds: 'at least', margin: -2 },
  ],
  [
    'duplicate-address',
    only([consumer(1, 5), consumer(1, 5), consumer(1, 5)]),
    { value: 3, limit: 1, holds: 'at most', margin: -2 },
  ],
  [
    'too-many-devices',
    only(consumers(66, 1)),
    { value: 66, limit: 64, holds: 'at most', margin: -2, key: 'devicesClassic' },
  ],
  [
    'too-many-devices',
    only([...consumers(200, 1), ...consumers(57, 1)]),
    { value: 257, limit: 256, holds: 'at most', margin: -1, key: 'devicesGreatest' },
  ],
  [
    'current-not-declared',
    only([supply(320), consumer(1, 200), ...silent(1)]), // 56 mA to the target
    { value: 1, limit: 0, holds: 'at most', margin: -1, breakEvenMa: 56 },
  ],
  [
    'current-implausible',
    only([supply(320), consumer(1, 100.001)]),
    { value: 100.001, limit: 100, holds: 'at most', margin: -0.001, key: 'implausibleAboveMa' },
  ],
  ['current-implausible', only([consumer(1, -5)]), { value: -5, limit: 0.001, holds: 'at least', margin: -5.001 }],
  ['current-implausible', only([consumer(1, 0)]), { value: 0, limit: 0.001, holds: 'at least', margin: -0.001 }],
  ['current-implausible', only([consumer(1, '7,5')]), { value: null, limit: 0.001, holds: 'at least', margin: null }],
  [
    'product-not-in-archive',
    only([supply(160), consumer(1, 120), { address: 2, unknown: true }]), // 128 − 120, nearer to 10 than 40
    { value: 1, limit: 0, holds: 'at most', margin: -1, breakEvenMa: 8 },
  ],
  ['supply-on-unpowered-medium', onMedium('MT-5', [supply(320)]), { value: 1, limit: 0, holds: 'at most', margin: -1 }],
  [
    'coupler-missing',
    {
      lines: [
        { line: '1.1', segments: [[consumer(1, 5)]] },
        { line: '1.2', segments: [[coupler(5), consumer(1, 5)]] },
      ],
    },
    { value: 0, limit: 1, holds: 'at least', margin: -1 },
  ],
  [
    'device-unplaced',
    { lines: [{ line: '1.1', segments: [[]] }], unassigned: [consumer(1, 5)] },
    { value: 0, limit: 1, holds: 'at least', margin: -1 },
  ],
  // Volume 4/1 §2.7: 31 mA are of the class of 35 mA. The sum has to stay below the rating.
  [
    'fan-in-exceeded',
    only([supply(35), consumer(1, 31)]),
    { value: 35, limit: 35, holds: 'below', margin: 0, share: 1 },
  ],
  ['fan-in-exceeded', only([supply(640), ...consumers(65, 1)]), { value: 260, limit: 257, holds: 'below', margin: -3 }],
  [
    'oversized-supply',
    only([supply(1280), consumer(1, 10)]),
    { value: 1280, limit: 320, holds: 'at most', margin: -960, key: 'stock' },
  ],
  [
    'schema-not-known',
    { schema: 24, lines: [{ line: '1.1', segments: [[]] }] },
    { value: 24, limit: 23, holds: 'at most', margin: -1 },
  ],
];

describe('the figure of a finding', () => {
  it.each(FIGURES)('of %s says how far it is beyond, and where it turns', (id, plant, expected) => {
    const { share = null, breakEvenMa = null, key = null, ...figure } = expected;
    const { basis, source } = ruleOf(id);
    const { limitFrom, quantity, unit, ...measure } = measureOf(id, plant);
    expect([quantity, unit]).toEqual([expect.stringMatching(/\S/), expect.stringMatching(/\S/)]);
    expect(measure).toEqual({ ...figure, flipsAt: figure.limit, share, breakEvenMa });
    if (key === null) expect(limitFrom).toEqual({ basis, source, setBy: null, key });
    else expect(limitFrom).toMatchObject({ setBy: 'common-practice', key });
  });

  it('is known of every rule about the plant; a rule that has none needs a row above', () => {
    expect(new Set(FIGURES.map(([id]) => id))).toEqual(new Set(PLANT_RULE_IDS));
  });

  it('of a share has the share in it even where the value is 0', () => {
    const measure: Measure = { quantity: 'load', unit: 'mA', value: 0, limit: 5, holds: 'at most' };
    const shareOf = (whole?: number | null) =>
      reportMeasure(whole === undefined ? measure : { ...measure, whole }, ruleOf('low-headroom'), DEFAULT_POLICY)
        .share;
    expect([shareOf(10), shareOf(0), shareOf(null), shareOf()]).toEqual([0, null, null, null]);
  });
});

describe('where a limit is from', () => {
  const keyed = FIGURES.flatMap(([id, plant, { key }]) => (key === undefined ? [] : [[id, key, plant] as const]));

  it.each(keyed)('of %s is the policy file where that set %s', async (id, key, plant) => {
    const policy = await readPolicy(JSON.stringify({ [key]: DEFAULT_POLICY.values[key] }), 'office.yaml');
    expect(measureOf(id, plant, policy).limitFrom).toMatchObject({
      source: `set by hand in the policy file (${key})`,
      setBy: 'policy file',
      key,
    });
  });

  it.each(keyed)('of %s is none of a file that did not set %s', async (id, key, plant) => {
    const policy = await readPolicy('loopOhmPerKm: 80', 'office.yaml');
    expect(measureOf(id, plant, policy)).toEqual(measureOf(id, plant));
    expect(key).not.toBe('loopOhmPerKm');
  });

  it('is the built-in policy that set it', () => {
    const [, plant] = FIGURES.find(([id]) => id === 'low-headroom') ?? [];
    if (plant === undefined) throw new Error('no plant');
    const { limitFrom } = measureOf('low-headroom', plant, builtIn('conservative'));
    expect(limitFrom).toMatchObject({ setBy: 'conservative', key: 'targetLoad', basis: 'common practice' });
  });

  it('is the waivers file of a finding about a waiver', () => {
    const rule = RULES.find(({ id }) => id === 'waiver-expired') as Rule;
    const measure: Measure = { quantity: 'days', unit: 'days', value: 3, limit: 0, holds: 'at most' };
    expect(waiverMeasure(measure, rule)).toMatchObject({
      margin: -3,
      flipsAt: 0,
      limitFrom: { basis: rule.basis, source: rule.source, setBy: 'waivers file', key: null },
    });
  });
});

type Figure = Pick<Measure, 'value' | 'limit' | 'holds'>;

/** Whether a value is on the wrong side of its limit; where one of them is not known, that is the finding. */
function isBeyond({ value, limit, holds }: Figure): boolean {
  if (value === null || limit === null) return true;
  if (holds === 'below') return value >= limit;
  return holds === 'at most' ? value > limit : value < limit;
}

describe('the figure of any finding', () => {
  it('is beyond its limit, whatever the plant', () => {
    const growth = [{ line: '1.*', devices: 3, reserveMa: 7.5 }];
    const rules = RULES.filter((rule) => rule.scope !== 'waivers');
    fc.assert(
      fc.property(randomPlant, (plant) => {
        for (const rule of rules) {
          for (const { measure } of check(rule, { ...plant, policy: { ...plant.policy, growth } }).findings) {
            expect([rule.id, measure, isBeyond(measure)]).toEqual([rule.id, measure, true]);
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it('is beyond its limit in the report of any archive, with a margin that says so', async () => {
    await fc.assert(
      fc.asyncProperty(plantParts, async (parts) => {
        for (const { rule, measure } of (await audit(await zip(parts, { stored: true }))).findings) {
          const { value, limit, margin, flipsAt, holds } = measure;
          if (margin !== null) expect(margin).toBeLessThanOrEqual(0);
          expect([rule, measure, isBeyond(measure)]).toEqual([rule, measure, true]);
          expect(flipsAt).toBe(limit);
          if (value === null || limit === null) expect(margin).toBeNull();
          else expect(margin).toBeCloseTo(holds === 'at least' ? value - limit : limit - value, 6);
        }
      }),
      { numRuns: 60 },
    );
  });
});
