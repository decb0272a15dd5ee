import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Nearest } from '../../src/documents/nearest.js';
import type { Segment } from '../../src/plant/plant.js';
import { segmentsOf } from '../../src/plant/plant.js';
import { Misses } from '../../src/site/misses.js';
import { resolveSite } from '../../src/site/resolve.js';
import { deviceNamed, Scope } from '../../src/site/scope.js';
import { readSheet } from '../../src/site/sheet.js';
import { consumer } from '../support/plants.js';
import { randomPlant } from '../support/random-specs.js';
import { refusalOf } from '../support/refusal.js';
import { ANOTHER, firstSite, projectOf, THIS } from '../support/sites.js';

const POINTS = ['board', 'hall', 'attic', 'cellar'];

/** What a planner might write of a segment, drawn from what there is. */
function entryOf(segment: Segment, supplyIds: readonly string[]) {
  const ids = segment.devices.map(({ id }) => id);
  const runs = fc
    .tuple(...[1, 2, 3].map((to) => fc.tuple(fc.nat({ max: to - 1 }), fc.nat({ max: 350 }))))
    .map((tree) =>
      tree.map(([from, length], index) => ({ from: POINTS[from], to: POINTS[index + 1], length: `${length} m` })),
    );
  const seats = fc.tuple(...ids.map(() => fc.integer({ min: -1, max: POINTS.length - 1 }))) as fc.Arbitrary<number[]>;
  return fc.record({
    segment: fc.constant(segment.id),
    fedBy: fc.option(fc.subarray([...supplyIds]), { nil: undefined }),
    cable: fc.constantFrom('0.8 mm pair', '0.6 mm pair', '1.5 mm² pair'),
    doubledPair: fc.boolean(),
    temperature: fc.integer({ min: -10, max: 60 }).map((degrees) => `${degrees} °C`),
    runs,
    places: seats.map((seat) =>
      POINTS.map((at, point) => ({ at, devices: ids.filter((_, index) => seat[index] === point) })),
    ),
    connected: fc.option(fc.subarray(ids), { nil: undefined }),
  });
}

const drawn = randomPlant.chain((plant) => {
  const project = projectOf(plant);
  const segments = project.installations.flatMap(segmentsOf);
  const supplyIds = segments.flatMap(({ supplies }) => supplies.map(({ device }) => device.id));
  // An entry for a medium without power is a fault.
  const entries = segments.map((segment) =>
    segment.medium.needsPower ? fc.option(entryOf(segment, supplyIds), { nil: undefined }) : fc.constant(undefined),
  );
  return fc.record({ project: fc.constant(project), entries: fc.tuple(...entries) });
});

const supplyIdsOf = ({ supplies }: Segment) => supplies.map(({ device }) => device.id);

describe('any plausible sheet of any plant', () => {
  it('is found in it, and changes nothing but what it states', async () => {
    await fc.assert(
      fc.asyncProperty(drawn, async ({ project, entries }) => {
        const written = entries.filter((entry) => entry !== undefined);
        const sheet = await readSheet(JSON.stringify({ segments: written }), 'site.yaml');
        const resolved = resolveSite([project], sheet, THIS);
        const said = firstSite(resolved).segments;
        expect([...said.keys()]).toEqual(written.map(({ segment }) => segment));
        const after = resolved.projects.flatMap(({ installations }) => installations.flatMap(segmentsOf));
        project.installations.flatMap(segmentsOf).forEach((before, index) => {
          const [entry, now] = [entries[index], after[index]];
          if (now === undefined) throw new Error('a segment is gone');
          const { line, supplies, feed, ...rest } = now;
          expect(before).toMatchObject(rest);
          expect([supplyIdsOf(now), feed]).toEqual(
            entry?.fedBy === undefined ? [supplyIdsOf(before), 'own'] : [entry.fedBy, 'stated'],
          );
          const layout = said.get(before.id)?.layout;
          const seats = Object.fromEntries(
            (entry?.places ?? []).flatMap(({ at, devices }) => devices.map((id) => [id, at])),
          );
          const found = [...(layout?.pointOf ?? [])].map(([id, point]) => [id, layout?.points[point]]);
          expect(Object.fromEntries(found)).toEqual(seats);
          for (const { ohm, lengthM } of layout?.runs ?? []) expect(ohm === 0).toBe(lengthM === 0);
        });
      }),
      { numRuns: 100 },
    );
  });
});

describe('a sheet of which every name is wrong', () => {
  const devices = Array.from({ length: 20_000 }, (_, index) => consumer(index % 256, 5, { name: `Device ${index}` }));
  const project = projectOf({ lines: [{ line: '1.1', segments: [devices] }] });

  it('costs no more than the bound, and tells of every name', async () => {
    const [scope] = project.installations.map((one) => new Scope(one));
    if (scope === undefined) throw new Error('no installation');
    const nearest = new Nearest(1_000_000);
    const sheet = { ...(await readSheet('', 'site.yaml')), archive: ANOTHER };
    const misses = new Misses(sheet, THIS, nearest);
    for (let index = 0; index < 5000; index++) {
      const mention = { name: `Devise ${index}`, place: `connected[${index}]`, segment: null };
      expect(deviceNamed(mention, { scope, among: new Set(), said: 'device' }, misses)).toBeNull();
    }
    expect(nearest.work).toBeLessThan(1_000_000 + 60 * 60);
    expect(misses.stale).toHaveLength(5000);
    expect(misses.stale[0]?.nearest).toContain('Device 0');
    expect(misses.stale.at(-1)?.nearest).toEqual([]);
  });

  it('is refused with the first twenty', async () => {
    const connected = Array.from({ length: 5000 }, (_, index) => `Devise ${index}`);
    const sheet = await readSheet(JSON.stringify({ segments: [{ segment: '1.1', connected }] }), 'site.yaml');
    const { detail } = await refusalOf(() => resolveSite([project], sheet, THIS));
    expect(detail).toContain('segments[0].connected[19]');
    expect(detail).toContain('4980 more of the kind');
    expect(detail.length).toBeLessThan(4000);
  });
});
