import fc from 'fast-check';
import { expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { readChanges } from '../../src/changes/changes.js';
import type { Comparison } from '../../src/report/compare/comparison.js';
import type { Report } from '../../src/report/report.js';
import { whatIf } from '../../src/what-if.js';
import { archiveOf, type PlanSpec } from '../support/plan-archives.js';

const WHAT = ['button', 'dimmer', 'panel'] as const;
const device = fc.record({
  count: fc.integer({ min: 1, max: 30 }),
  what: fc.constantFrom(...WHAT),
  ma: fc.option(fc.integer({ min: 1, max: 40_000 }).map((ua) => ua / 1000)),
});

/** Lines of an area under a main line, and what comes and goes of the devices that a line has. */
const cases = fc.record({
  lines: fc.uniqueArray(
    fc.record({
      line: fc.integer({ min: 1, max: 4 }).map((line) => `1.${line}`),
      supplyMa: fc.array(fc.constantFrom(160, 320, 640), { maxLength: 2 }),
      devices: fc.uniqueArray(device, { selector: ({ what, ma }) => `${what}-${ma}`, minLength: 1, maxLength: 3 }),
    }),
    { selector: ({ line }) => line, minLength: 1, maxLength: 3 },
  ),
  picks: fc.array(
    fc.record({
      line: fc.nat(),
      device: fc.nat(),
      by: fc.integer({ min: -30, max: 30 }).filter((by) => by !== 0),
      supplyMa: fc.option(fc.constantFrom(160, 320, 640)),
    }),
    { minLength: 1, maxLength: 4 },
  ),
});

type Picks = ReturnType<typeof cases.generate>['value']['picks'];
/** The plan with the devices in it, and the changes that say the same; what goes is of what was there from the first. */
function changed(plan: readonly PlanSpec[], picks: Picks) {
  const after = plan.map((line) => ({
    ...line,
    supplyMa: [...line.supplyMa],
    devices: line.devices.map((one) => ({ ...one, left: one.count })),
  }));
  const changes: object[] = [];
  for (const { line: lineAt, device: deviceAt, by, supplyMa } of picks) {
    const line = after[lineAt % after.length];
    const device = line?.devices[deviceAt % line.devices.length];
    if (supplyMa !== null) {
      line?.supplyMa.push(supplyMa);
      changes.push({ line: line?.line, supply: `${supplyMa} mA` });
    } else if (device !== undefined) {
      const goes = Math.min(-by, device.left);
      if (by < 0 && goes === 0) continue;
      device.count += by > 0 ? by : -goes;
      if (by < 0) device.left -= goes;
      const product = `${device.what}-${device.ma}`;
      changes.push({ line: line?.line, product, ...(by > 0 ? { add: by } : { remove: goes }) });
    }
  }
  return { after, changes };
}

/** All that a comparison tells of the later state of a segment; ids are each archive's own. */
function sidesOf(segments: Comparison['segments']) {
  return new Map(
    segments.map(({ new: { label, verdict, loadMa, capacityMa, utilisation, headroomMa } }) => [
      label,
      { verdict, loadMa, capacityMa, utilisation, headroomMa },
    ]),
  );
}

function figuresOf({ segments }: Report) {
  return new Map(
    segments.map(({ label, verdict, load, supply, utilisation, headroomMa }) => [
      label,
      { verdict, loadMa: load.totalMa, capacityMa: supply.capacityMa, utilisation, headroomMa },
    ]),
  );
}

it('what changes come to is what an archive with them comes to', async () => {
  const verdicts = new Set<string>();
  await fc.assert(
    fc.asyncProperty(cases, async ({ lines, picks }) => {
      const plan = [{ line: '1.0', supplyMa: [320], devices: [] }, ...lines];
      const { after, changes } = changed(plan, picks);
      fc.pre(changes.length > 0);
      const read = await readChanges(JSON.stringify({ changes }), 'changes');
      const archive = await archiveOf(plan);
      const comparison = await whatIf({ archive, changes: read });
      const before = await audit(archive);
      const expected = await audit(await archiveOf(after));
      const found = new Map([...figuresOf(before), ...sidesOf(comparison.segments)]);
      expect(found).toEqual(figuresOf(expected));
      const worse = comparison.findings.new.length - comparison.findings.fixed.length;
      expect(before.findings.length + worse).toBe(expected.findings.length);
      for (const { verdict } of found.values()) verdicts.add(verdict);
    }),
    { numRuns: 80 },
  );
  expect([...verdicts]).toEqual(expect.arrayContaining(['sufficient', 'tight', 'insufficient', 'unfed']));
});
