import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentLabel } from '../../src/plant/plant.js';
import type { Policy } from '../../src/policy/policy.js';
import { growthExceedsSupply } from '../../src/rules/growth-exceeds-supply.js';
import { runRules } from '../../src/rules/run.js';
import { shortCircuitSum } from '../../src/rules/short-circuit-sum.js';
import { supplyNotReporting } from '../../src/rules/supply-not-reporting.js';
import { tooManySupplies } from '../../src/rules/too-many-supplies.js';
import type { FittingChoice } from '../../src/sizing/choice.js';
import { proposalsOf } from '../../src/sizing/proposals.js';
import { toMa } from '../../src/units.js';
import { consumer, contextOf, type DeviceSpec, type PlantSpec } from '../support/plants.js';

const RULES = [growthExceedsSupply, shortCircuitSum, supplyNotReporting, tooManySupplies];

const unit = (ma: number | undefined, isReporting: boolean): DeviceSpec => ({
  ...(ma === undefined ? {} : { ma }),
  name: 'Supply',
  is: { isPowerSupply: true, hasIndividualAddress: isReporting, hasApplicationProgram: isReporting },
});

const ratingMa = fc.constantFrom(25, 80, 160, 320, 640, 960, 1280);
const present = fc.tuple(fc.option(ratingMa, { nil: undefined }), fc.boolean());
const loadMa = fc.integer({ min: 1, max: 1_300_000 }).map(toMa);
const entry = fc.record(
  {
    critical: fc.boolean(),
    monitoring: fc.boolean(),
    auxiliaryLoad: fc.constantFrom('0 mA', '30 mA'),
    planned: fc.constantFrom([], [{ devices: 3 }], [{ devices: 2, current: '12.5 mA' }]),
    totalLength: fc.constantFrom('10 m', '300 m', '900 m'),
  },
  { requiredKeys: [] },
);
const stock = fc.array(
  fc.record(
    {
      ratingMa,
      kinds: fc.subarray(['plain', 'reporting', 'redundant'] as const, { minLength: 1 }),
      price: fc.integer({ min: 1, max: 50_000 }).map((hundredths) => hundredths / 100),
    },
    { requiredKeys: ['ratingMa', 'kinds'] },
  ),
  { minLength: 1, maxLength: 5 },
);

interface Drawn {
  readonly supplies: readonly (readonly [number | undefined, boolean])[];
  readonly loadMa: number;
  readonly entry: object;
  readonly policy: Partial<Policy>;
}

const drawn: fc.Arbitrary<Drawn> = fc.record({
  supplies: fc.array(present, { maxLength: 3 }),
  loadMa,
  entry,
  policy: fc.record(
    { stock, growth: fc.constant([{ line: '1.*', devices: 2, reserveMa: 5 }]), targetLoad: fc.constantFrom(0.7, 1) },
    { requiredKeys: [] },
  ) as fc.Arbitrary<Partial<Policy>>,
});

function plantOf({ supplies, loadMa: ma, entry: said, policy }: Drawn): PlantSpec {
  const devices = [...supplies.map(([rated, isReporting]) => unit(rated, isReporting)), consumer(1, ma)];
  return {
    lines: [{ line: '1.1', segments: [devices] }],
    policy,
    sheet: { segments: [{ segment: '1.1', ...said }] },
  };
}

async function proposalFor(plant: PlantSpec) {
  const { bySegment } = await proposalsOf(contextOf(plant));
  const [proposal] = bySegment.values();
  if (proposal === undefined) throw new Error('no proposal');
  return proposal;
}

/** The records with the supplies of the choice: what goes is taken out, what is bought stands at the end. */
function applied(plant: Drawn, { removed, added }: FittingChoice): Drawn {
  const gone = new Set(removed.map(({ device }) => Number(device.id.split('-').at(-1)) - 1));
  const left = plant.supplies.filter((_, at) => !gone.has(at));
  return {
    ...plant,
    supplies: [...left, ...added.map(({ ratingUa, kind }) => [toMa(ratingUa), kind === 'reporting'] as const)],
  };
}

describe('a proposal that is carried out', () => {
  it('leaves a segment that is sufficient, within every rule about supplies, and proposes no more', async () => {
    const actions = new Set<string>();
    await fc.assert(
      fc.asyncProperty(drawn, async (plant) => {
        const { action, choice, others } = await proposalFor(plantOf(plant));
        actions.add(action);
        for (const one of choice === null ? [] : [choice, ...others]) {
          const after = plantOf(applied(plant, one));
          const context = contextOf(after);
          expect(context.balances.map(({ verdict }) => verdict)).toEqual(['sufficient']);
          const { findings } = runRules(RULES, context);
          expect(findings.map(({ rule, finding }) => `${rule.id} ${finding.segments.map(segmentLabel)}`)).toEqual([]);
          expect(context.balances[0]?.onSite?.voltages?.verdict ?? 'not known').not.toMatch(/too low|overloaded/);
          expect((await proposalFor(after)).action).toBe('stays');
        }
      }),
      { numRuns: 500 },
    );
    expect([...actions].sort()).toEqual(['add', 'none', 'order', 'remove', 'replace', 'split', 'stays']);
  });
});

/** By hand, without any of the code: the choices of one rating each that serve, in the order that is wanted. */
function byBruteForce(ratings: readonly number[], sizes: readonly number[], wantedMa: number): string | null {
  const shortMa = (ma: number) => [160, 320, 640, 960, 1280].findIndex((row) => ma <= row);
  const amps = [1000, 1000, 1500, 2250, 3000];
  let best: { key: number[]; text: string } | null = null;
  for (let mask = 0; mask < 1 << ratings.length; mask++) {
    const kept = ratings.filter((_, at) => mask & (1 << at));
    const buys = [
      [],
      ...sizes.map((a) => [a]),
      ...sizes.flatMap((a) => sizes.filter((b) => b >= a).map((b) => [a, b])),
    ];
    for (const added of buys) {
      const all = [...kept, ...added];
      const sumMa = all.reduce((a, b) => a + b, 0);
      const shortSum = all.reduce((a, b) => a + (amps[shortMa(b)] ?? 0), 0);
      if (all.length === 0 || all.length > 2 || shortSum > 3000 || wantedMa > sumMa * 0.8) continue;
      const key = [-kept.length, all.length, sumMa];
      const differs = best === null ? -1 : (key.map((k, at) => k - (best?.key[at] ?? 0)).find((d) => d !== 0) ?? 0);
      if (differs < 0) best = { key, text: `${kept.length} of ${sumMa}: ${all.length}` };
    }
  }
  return best?.text ?? null;
}

describe('the best choice', () => {
  const sizes = [160, 320, 640, 1280];

  it('is what going through all of them finds', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom(160, 320, 640, 960, 1280), { maxLength: 3 }),
        fc.integer({ min: 1, max: 1100 }),
        async (ratings, ma) => {
          const plant = plantOf({ supplies: ratings.map((one) => [one, false]), loadMa: ma, entry: {}, policy: {} });
          const { choice } = await proposalFor(plant);
          const told =
            choice && `${choice.kept.length} of ${toMa(choice.ratedUa)}: ${choice.kept.length + choice.added.length}`;
          expect(told).toBe(byBruteForce(ratings, sizes, ma));
        },
      ),
      { numRuns: 300 },
    );
  });
});
