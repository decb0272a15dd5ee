import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentsOf } from '../../src/plant/plant.js';
import { RULES } from '../../src/rules/index.js';
import type { PlantRule, Rule, RuleContext } from '../../src/rules/rule.js';
import { runRules } from '../../src/rules/run.js';
import { consumer, contextOf, coupler, coverageByLabel, supply } from '../support/plants.js';
import { randomPlant } from '../support/random-specs.js';

const PLANT = contextOf({
  lines: [
    { line: '1.1', segments: [[supply(160), consumer(1, 170), consumer(1, 0), coupler(5)]] },
    { line: '1.2', segments: [[consumer(1, 10)], [supply(640), { address: 2 }]] },
    { line: '1.3', medium: 'MT-2', segments: [[consumer(1, 10)]] },
  ],
});

const SEGMENTS_OF_PLANT = ['1.1', '1.2 segment 1', '1.2 segment 2', '1.3'];

/** Those about waivers look at no plant. */
const PLANT_RULES = RULES.filter((rule) => rule.scope !== 'waivers');

const boom = new Error('boom');

/** A rule that throws on a given occasion, in place of the rule that it copies. */
const BROKEN: readonly (readonly [string, (rule: PlantRule) => PlantRule])[] = [
  ['while it checks', (rule) => ({ ...everywhere(rule), check: () => raise() })],
  [
    'after its first finding',
    (rule) => {
      const check = function* (balance: never, context: never) {
        yield* rule.check(balance, context);
        raise();
      };
      return { ...everywhere(rule), check } as unknown as PlantRule;
    },
  ],
];

/** A segment rule that skips no segment, so that it gets to throw on each. */
function everywhere(rule: PlantRule): PlantRule {
  return rule.scope === 'segment' ? { ...rule, missing: () => null } : rule;
}

function raise(): never {
  throw boom;
}

function runWith(broken: PlantRule, context: RuleContext) {
  return runRules(
    RULES.map((rule) => (rule.id === broken.id ? broken : rule)),
    context,
  );
}

describe('a rule that throws', () => {
  describe.each(BROKEN)('%s', (_, breakRule) => {
    it.each(PLANT_RULES.map((rule) => [rule.id, rule] as const))(
      '%s: failed everywhere, and no other is harmed',
      (id, rule) => {
        const whole = runRules(RULES, PLANT);
        const run = runWith(breakRule(rule), PLANT);
        const expected = rule.scope === 'segment' ? SEGMENTS_OF_PLANT : [...SEGMENTS_OF_PLANT, '*'];
        const others = <T extends { rule: string | Rule }>(items: readonly T[]) =>
          items.filter((item) => (typeof item.rule === 'string' ? item.rule : item.rule.id) !== id);
        expect(coverageByLabel(run.coverage.filter((entry) => entry.rule === id))).toEqual(
          Object.fromEntries(expected.map((label) => [label, 'failed'])),
        );
        expect(run.findings.filter((found) => found.rule.id === id)).toEqual([]);
        expect(others(run.findings)).toEqual(others(whole.findings));
        expect(others(run.coverage)).toEqual(others(whole.coverage));
        expect(new Set(run.failures.map(({ rule: failed, cause }) => [failed, cause].join()))).toEqual(
          new Set([[id, boom].join()]),
        );
      },
    );
  });

  it('is contained where it throws while it asks what is missing', () => {
    const notDeclared = PLANT_RULES.find(({ id }) => id === 'current-not-declared') as PlantRule;
    const run = runWith({ ...notDeclared, missing: raise }, PLANT);
    const coverage = coverageByLabel(run.coverage.filter(({ rule }) => rule === 'current-not-declared'));
    expect(new Set(Object.values(coverage))).toEqual(new Set(['failed']));
    expect(run.failures).toEqual([{ rule: 'current-not-declared', cause: boom }]);
  });

  it('is contained where its words throw', () => {
    const overloaded = PLANT_RULES.find(({ id }) => id === 'overloaded-segment') as PlantRule;
    const run = runWith({ ...overloaded, words: { message: raise, advice: () => '' } }, PLANT);
    const coverage = coverageByLabel(run.coverage.filter(({ rule }) => rule === 'overloaded-segment'));
    // Only line 1.1 has a finding to put into words: 170 + 0 + 5 mA on 160 mA.
    expect(coverage).toEqual({
      '1.1': 'failed',
      '1.2 segment 1': 'skipped: there is no supply',
      '1.2 segment 2': 'passed',
      '1.3': 'skipped: the medium radio carries no bus power',
    });
    expect(run.failures).toEqual([{ rule: 'overloaded-segment', cause: boom }]);
  });
});

describe('rules about waivers', () => {
  it('are passed over, on as off: they say nothing of a plant', () => {
    const off = { ...PLANT, policy: { ...PLANT.policy, severities: { 'waiver-unused': 'off' } } } as RuleContext;
    for (const context of [PLANT, off]) {
      expect(runRules(RULES, context)).toEqual(runRules(PLANT_RULES, context));
    }
  });
});

describe('on random plants', () => {
  const everyPlant = (check: (context: RuleContext) => void) =>
    fc.assert(
      fc.property(randomPlant, (plant) => check(contextOf(plant))),
      { numRuns: 150 },
    );

  it('every segment that is unfed, insufficient or undecidable carries an error', () => {
    everyPlant((context) => {
      const { findings } = runRules(RULES, context);
      const errors = findings.filter(({ rule, finding }) => (finding.severity ?? rule.severity) === 'error');
      const named = new Set(errors.flatMap(({ finding }) => finding.segments));
      const silent = context.balances.filter(
        ({ segment, verdict }) => ['unfed', 'insufficient', 'undecidable'].includes(verdict) && !named.has(segment),
      );
      expect(silent).toEqual([]);
    });
  });

  it('every rule ends once on every segment, and an installation rule once on the installation', () => {
    everyPlant((context) => {
      const { coverage, failures } = runRules(RULES, context);
      expect(failures).toEqual([]);
      const segments = segmentsOf(context.installation);
      const wanted = PLANT_RULES.flatMap(({ id, scope }) => [
        ...segments.map((segment) => `${id} ${segment.id}`),
        ...(scope === 'installation' ? [`${id} *`] : []),
      ]);
      expect(coverage.map(({ rule, segment }) => `${rule} ${segment?.id ?? '*'}`).sort()).toEqual(wanted.sort());
    });
  });

  it('coverage says found exactly where a finding names the segment, and gives a reason exactly where it skips', () => {
    everyPlant((context) => {
      const { coverage, findings } = runRules(RULES, context);
      const named = new Set(
        findings.flatMap(({ rule: { id }, finding }) =>
          finding.segments.length === 0 ? [`${id} *`] : finding.segments.map((segment) => `${id} ${segment.id}`),
        ),
      );
      const contradictions = coverage.filter(
        ({ rule, segment, status, missing }) =>
          (status === 'found') !== named.has(`${rule} ${segment?.id ?? '*'}`) ||
          (status === 'skipped') !== (missing !== null),
      );
      expect(contradictions).toEqual([]);
    });
  });

  it('every finding has words, and no fact in them is missing', () => {
    everyPlant((context) => {
      const texts = runRules(RULES, context).findings.map(({ finding }) => `${finding.message} ${finding.remedy}`);
      expect(texts.filter((text) => !text.endsWith('.') || /undefined|NaN|null|\[object/.test(text))).toEqual([]);
    });
  });
});
