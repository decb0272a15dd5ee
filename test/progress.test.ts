import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit, auditPlan } from '../src/audit.js';
import { divided, type Progress, ProgressMeter, STAGES, type Stage } from '../src/progress.js';
import { FIXTURES, fixtureArchive, fixtureParts, zip } from './support/archives.js';
import { heavyArchive } from './support/heavy.js';

/** What is passed on of what is told. */
function passedOn(told: readonly (readonly [Stage, number])[]): Progress[] {
  const passed: Progress[] = [];
  const meter = new ProgressMeter((progress) => passed.push(progress));
  for (const [stage, part] of told) meter.at(stage, part);
  return passed;
}

describe('the share of the whole', () => {
  /** By the weights in `src/progress.ts`: 0, 50, 12, 15 and 23 hundredths. */
  it.each([
    ['waiting', 0, 0],
    ['waiting', 1, 0],
    ['reading', 0, 0],
    ['reading', 0.0199, 0],
    ['reading', 0.02, 0.01],
    ['reading', 1, 0.5],
    ['judging', 0, 0.5],
    ['judging', 0.5, 0.56],
    ['sizing', 0, 0.62],
    ['sizing', 1, 0.77],
    ['writing', 0, 0.77],
    ['writing', 0.999, 0.99],
    ['writing', 1, 1],
  ] as const)('of %s at %d is %d', (stage, part, share) => {
    expect(passedOn([[stage, part]])).toEqual([{ stage, share }]);
  });

  it.each([Number.NaN, -1, Number.NEGATIVE_INFINITY])('counts a part of %d as nothing', (part) => {
    expect(passedOn([['reading', part]])).toEqual([{ stage: 'reading', share: 0 }]);
  });

  it('counts more than all as all', () => {
    expect(passedOn([['reading', 7]])).toEqual([{ stage: 'reading', share: 0.5 }]);
  });

  it('is passed on where the stage is another and the share is not', () => {
    const passed = passedOn([
      ['reading', 1],
      ['judging', 0],
    ]);
    expect(passed).toEqual([
      { stage: 'reading', share: 0.5 },
      { stage: 'judging', share: 0.5 },
    ]);
  });

  it('is not passed on again, nor is what is told of a stage that is over', () => {
    const passed = passedOn([
      ['judging', 0],
      ['judging', 0.01],
      ['reading', 1],
      ['judging', 0],
    ]);
    expect(passed).toEqual([{ stage: 'judging', share: 0.5 }]);
  });

  it('only grows, in whole hundredths, through the stages in their order, whatever is told', () => {
    const part = fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.double());
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.constantFrom(...STAGES), part)), (told) => {
        const passed = passedOn(told);
        for (const [index, { stage, share }] of passed.entries()) {
          expect(share).toBe(Math.round(share * 100) / 100);
          expect(share >= 0 && share <= 1).toBe(true);
          const before = passed[index - 1];
          if (before === undefined) continue;
          const steps = [STAGES.indexOf(stage) - STAGES.indexOf(before.stage), share - before.share];
          expect(Math.min(...steps)).toBeGreaterThanOrEqual(0);
          expect(Math.max(...steps)).toBeGreaterThan(0);
        }
      }),
    );
  });

  it('is 1 at the end of the last stage and not before', () => {
    fc.assert(
      fc.property(fc.constantFrom(...STAGES), fc.double({ min: 0, max: 1, noNaN: true }), (stage, part) => {
        const isEnd = stage === 'writing' && part === 1;
        expect(passedOn([[stage, part]]).map(({ share }) => share === 1)).toEqual([isEnd]);
      }),
    );
  });
});

it('divided work takes as much of the whole as it is large, one after the other', () => {
  const told: number[] = [];
  const tells = divided((part) => told.push(part), [1, 0, 3]);
  for (const tell of tells) for (const part of [0, 0.5, 1]) tell(part);
  expect(told).toEqual([0, 0.125, 0.25, 0.25, 0.25, 0.25, 0.25, 0.625, 1]);
});

describe('an audit', () => {
  async function progressOf(archive: Uint8Array): Promise<Progress[]> {
    const told: Progress[] = [];
    await audit(archive, { onProgress: (progress) => told.push(progress) });
    return told;
  }

  const stagesOf = (told: readonly Progress[]) => [...new Set(told.map(({ stage }) => stage))];

  it('tells of its stages in their order, and ends where a format is left to be made', async () => {
    const told = await progressOf(await fixtureArchive('school'));
    expect(stagesOf(told)).toEqual(STAGES.slice(1));
    expect(told[0]).toEqual({ stage: 'reading', share: 0 });
    expect(told).toContainEqual({ stage: 'reading', share: 0.5 });
    expect(told.at(-1)).toEqual({ stage: 'writing', share: 0.86 });
  });

  it('judges all installations before it sizes the first', async () => {
    const parts = fixtureParts('house');
    const told = await progressOf(await zip({ ...parts, 'P-01D4/1.xml': parts['P-01D4/0.xml'] as Buffer }));
    expect(stagesOf(told)).toEqual(STAGES.slice(1));
    expect(told.filter(({ stage }) => stage === 'sizing').length).toBeGreaterThan(2);
  });

  it('tells while a topology document is read', async () => {
    const told = await progressOf(await heavyArchive(50_000)); // some 2 MB in a single document
    const inside = told.filter(({ stage, share }) => stage === 'reading' && share > 0 && share < 0.5);
    expect(inside.length).toBeGreaterThan(2);
  });

  it('gives the same report whether anybody is told or not', async () => {
    const archive = await fixtureArchive('school');
    expect(await audit(archive, { onProgress: () => {} })).toEqual(await audit(archive));
  });

  it('of a plan tells of the same stages', async () => {
    const told: Progress[] = [];
    const text = readFileSync(join(FIXTURES, 'example-plan.yaml'), 'utf8');
    await auditPlan({ name: 'plan', text }, { onProgress: (progress) => told.push(progress) });
    expect(stagesOf(told)).toEqual(STAGES.slice(1));
  });
});
