import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { compareReports } from '../../src/report/compare/compare.js';
import { comparisonSchema } from '../../src/report/compare/comparison.js';
import { readReport } from '../../src/report/read.js';
import type { Report } from '../../src/report/report.js';
import { zip } from '../support/archives.js';
import { countsOf, NO_CHANGES } from '../support/comparisons.js';
import { renamed, schoolReport } from '../support/edited.js';
import { plantParts } from '../support/random-plants.js';

/** Two reports of random plants; ids are numbered alike, so that much of them is matched. */
const twoReports = fc.tuple(plantParts, plantParts);

async function reportOf(parts: Record<string, string>): Promise<Report | null> {
  return audit(await zip(parts, { stored: true })).catch(() => null);
}

describe('whatever the plants', () => {
  const SIDES = { old: 'new', new: 'old' } as const;
  /** A list of changes as it has to be the other way round, whatever its order. */
  const turned = (changes: readonly Record<string, unknown>[]) =>
    changes
      .map((change) => JSON.stringify([change[SIDES.old], change[SIDES.new], change.rule, change.matchedBy]))
      .sort();
  const straight = (changes: readonly Record<string, unknown>[]) =>
    changes.map((change) => JSON.stringify([change.old, change.new, change.rule, change.matchedBy])).sort();

  it('a report against itself has no changes', async () => {
    await fc.assert(
      fc.asyncProperty(plantParts, async (parts) => {
        const report = await reportOf(parts);
        fc.pre(report !== null);
        const again = readReport(JSON.stringify(report), 'again');
        expect(countsOf(compareReports(report, again))).toEqual({ ...NO_CHANGES, unchanged: report.findings.length });
      }),
      { numRuns: 60 },
    );
  });

  it('what is new one way is fixed the other way, and what has worsened has improved', async () => {
    await fc.assert(
      fc.asyncProperty(twoReports, async ([a, b]) => {
        const [old, fresh] = await Promise.all([reportOf(a), reportOf(b)]);
        fc.pre(old !== null && fresh !== null);
        const there = compareReports(old, fresh);
        const back = compareReports(fresh, old);
        for (const [state, reverse] of [
          ['new', 'fixed'],
          ['fixed', 'new'],
          ['worsened', 'improved'],
          ['improved', 'worsened'],
        ] as const) {
          expect(turned(there.findings[state])).toEqual(straight(back.findings[reverse]));
        }
        expect(there.findings.unchanged).toBe(back.findings.unchanged);
        expect(turned(there.segments)).toEqual(straight(back.segments));
        expect(straight(there.segmentsAdded)).toEqual(straight(back.segmentsRemoved));
        const { fixed, worsened, improved, unchanged, new: added } = there.findings;
        const inBoth = worsened.length + improved.length + unchanged;
        expect([fixed.length + inBoth, added.length + inBoth]).toEqual([old.findings.length, fresh.findings.length]);
        expect(comparisonSchema.parse(there)).toEqual(there);
      }),
      { numRuns: 60 },
    );
  });

  it('another project id changes nothing', async () => {
    await fc.assert(
      fc.asyncProperty(plantParts, async (parts) => {
        const otherwise = Object.entries(parts).map(([name, text]) =>
          [name, text].map((s) => s.replaceAll('P-0001', 'P-00AF')),
        );
        const [report, again] = await Promise.all([reportOf(parts), reportOf(Object.fromEntries(otherwise))]);
        fc.pre(report !== null && again !== null);
        expect(countsOf(compareReports(report, again))).toEqual({ ...NO_CHANGES, unchanged: report.findings.length });
      }),
      { numRuns: 60 },
    );
  });

  it('of the school another project id changes nothing either', async () => {
    const [school, again] = await Promise.all([schoolReport(), schoolReport([renamed])]);
    expect(again.segments.map(({ id }) => id)).not.toEqual(school.segments.map(({ id }) => id));
    expect(countsOf(compareReports(school, again))).toEqual({ ...NO_CHANGES, unchanged: school.findings.length });
  });
});
