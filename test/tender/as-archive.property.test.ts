import fc from 'fast-check';
import { expect, it } from 'vitest';
import { audit, auditPlan } from '../../src/audit.js';
import type { Report } from '../../src/report/report.js';
import { archiveOf, type PlanSpec, planOf } from '../support/plan-archives.js';

const devices = fc.record({
  count: fc.integer({ min: 1, max: 40 }),
  what: fc.constantFrom('button', 'dimmer', 'panel'),
  ma: fc.option(fc.integer({ min: 1, max: 60_000 }).map((ua) => ua / 1000)),
});

/** Lines of one area, each once; the main line, if there is one, is the line above of the others. */
const plans: fc.Arbitrary<PlanSpec[]> = fc.uniqueArray(
  fc.record({
    line: fc.integer({ min: 1, max: 5 }).map((line) => `1.${line}`),
    supplyMa: fc.array(fc.constantFrom(160, 320, 640, 1280), { maxLength: 3 }),
    devices: fc.array(devices, { minLength: 1, maxLength: 4 }),
  }),
  { selector: ({ line }) => line, minLength: 1, maxLength: 4 },
);

const ORDER = (a: { readonly line: string }, b: { readonly line: string }) => (a.line < b.line ? -1 : 1);

/** All that is computed of a segment; names and ids are each document's own. */
function figuresOf({ segments }: Report) {
  return segments
    .map(({ line, verdict, load, supply: { units, ...supply }, utilisation, headroomMa, roomForDevices, fanIn }) => {
      const ratings = units.map(({ ratedMa }) => ratedMa);
      return { line, verdict, load, supply, ratings, utilisation, headroomMa, roomForDevices, fanIn };
    })
    .sort(ORDER);
}

/** How often each rule found something, but those about the archive's own form. */
function rulesOf({ findings }: Report): string[] {
  return findings.map(({ rule }) => rule).sort();
}

it('a plan and the archive that says the same come to the same balances and findings', async () => {
  const verdicts = new Set<string>();
  await fc.assert(
    fc.asyncProperty(plans, fc.boolean(), async (lines, withMain) => {
      const all = withMain ? [{ line: '1.0', supplyMa: [320], devices: [] }, ...lines] : lines;
      const asPlan = await auditPlan({ name: 'plan', text: JSON.stringify(planOf(all)) });
      const asArchive = await audit(await archiveOf(all));
      expect(figuresOf(asPlan)).toEqual(figuresOf(asArchive));
      expect(rulesOf(asPlan)).toEqual(rulesOf(asArchive));
      for (const { verdict } of asPlan.segments) verdicts.add(verdict);
    }),
    { numRuns: 60 },
  );
  expect([...verdicts]).toEqual(expect.arrayContaining(['sufficient', 'tight', 'insufficient', 'unfed']));
});
