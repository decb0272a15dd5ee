import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CableFigures, cableFiguresOf, deadEnds, totalLengthM } from '../../src/electrical/cable.js';
import type { Bounds } from '../../src/electrical/cable-bounds.js';
import type { SegmentSite } from '../../src/site/site.js';
import { joinedRuns, layoutOf, type RunSpec, segmentSite, treeRuns } from '../support/layouts.js';

interface Hung {
  readonly devices?: readonly string[];
  readonly supplies?: readonly string[];
  readonly choked?: readonly string[];
}

function figures(said: Partial<SegmentSite>, { devices = [], supplies = [], choked = [] }: Hung): CableFigures {
  return cableFiguresOf({ site: segmentSite(said), deviceIds: devices, supplyIds: supplies, chokedSupplyIds: choked });
}

const exactly = (lengthM: number): Bounds => ({ leastM: lengthM, mostM: lengthM });
const between = (leastM: number | null, mostM: number | null): Bounds => ({ leastM, mostM });
const UNKNOWN = between(null, null);

/** p0 —100— p1 —50— p2, with p3 30 m off p1: 180 m. */
const TREE: RunSpec[] = [
  [0, 1, 100],
  [1, 2, 50],
  [1, 3, 30],
];
const RING: RunSpec[] = [
  [0, 1, 100],
  [1, 2, 100],
  [2, 0, 100],
];
const TWO: Hung = { devices: ['a', 'b'], supplies: ['S'] };

describe('a layout by itself', () => {
  it('has the sum of its runs and the points at which it ends', () => {
    expect(totalLengthM(layoutOf(TREE))).toBe(180);
    expect(deadEnds(layoutOf(TREE))).toEqual([0, 2, 3]);
    expect(deadEnds(layoutOf(RING))).toEqual([]);
  });
});

describe('with everything placed', () => {
  it('all lengths are exact and nothing is wanted', () => {
    const layout = layoutOf(TREE, { S: 0, T: 2, a: 1, b: 3 });
    expect(figures({ layout }, { devices: ['a', 'b'], supplies: ['S', 'T'], choked: ['S', 'T'] })).toEqual({
      totalM: exactly(180),
      supplyToDeviceM: exactly(80), // b from T
      deviceToDeviceM: exactly(30),
      chokesApartM: exactly(150),
      wanted: [],
    });
  });

  it('the layout counts, not the farthest device that the sheet tells', () => {
    const layout = layoutOf(TREE, { S: 0, a: 1, b: 3 });
    expect(figures({ layout, farthestM: 300 }, TWO).supplyToDeviceM).toEqual(exactly(130));
  });

  it('sums of lengths that are no binary fractions stay at the limit', () => {
    const runs = Array.from({ length: 3 }, (_, at): RunSpec => [at, at + 1, 0.1]);
    const layout = layoutOf(runs, { S: 0, a: 3, b: 0 });
    expect(0.1 + 0.1 + 0.1).not.toBe(0.3);
    const { totalM, supplyToDeviceM, deviceToDeviceM } = figures({ layout }, TWO);
    expect([totalM, supplyToDeviceM, deviceToDeviceM]).toEqual([exactly(0.3), exactly(0.3), exactly(0.3)]);
    expect(figures({ layout, totalLengthM: 0.3 }, TWO).wanted).toEqual([]);
  });
});

describe('with devices that are not placed', () => {
  it('the placed ones prove the least, the whole cable bounds the most', () => {
    const layout = layoutOf(TREE, { S: 0, a: 1, b: 3 });
    const some = figures({ layout }, { ...TWO, devices: ['a', 'b', 'c'] });
    expect(some.supplyToDeviceM).toEqual(between(130, 150));
    expect(some.deviceToDeviceM).toEqual(between(30, 150));
    expect(some.wanted).toEqual(['where 1 of 3 devices sit']);
  });

  it('one of them may sit amid a run, and far from every point of it', () => {
    const layout = layoutOf([[0, 1, 100]], { S: 0, T: 1 });
    expect(figures({ layout }, { devices: ['a'], supplies: ['S', 'T'] }).supplyToDeviceM).toEqual(between(0, 50));
    // Between the middles of two sides of the ring lie 100 m, between a corner and the opposite middle 150.
    expect(figures({ layout: layoutOf(RING, { S: 0 }) }, TWO)).toMatchObject({
      supplyToDeviceM: between(0, 150),
      deviceToDeviceM: between(0, 200),
    });
  });

  it('the farthest device that the sheet tells is exact, if the layout does not prove more', () => {
    const layout = layoutOf(TREE, { S: 0, a: 1 });
    expect(figures({ layout, farthestM: 140 }, TWO)).toMatchObject({
      supplyToDeviceM: exactly(140),
      deviceToDeviceM: between(0, 150),
    });
    expect(figures({ layout, farthestM: 60 }, TWO)).toMatchObject({
      supplyToDeviceM: exactly(100),
      deviceToDeviceM: between(0, 120),
    });
  });

  it('cable that is in no run may lead to them', () => {
    const layout = layoutOf(TREE, { S: 0, a: 1 });
    const more = figures({ layout, totalLengthM: 200 }, TWO);
    expect(more).toMatchObject({ totalM: exactly(200), supplyToDeviceM: between(100, 170) });
    expect(more.deviceToDeviceM).toEqual(between(0, 170));
    expect(more.wanted).toEqual(['where 1 of 2 devices sit', 'the runs of a further 20 m of cable']);
    expect(figures({ layout, totalLengthM: 100 }, TWO)).toMatchObject({
      totalM: exactly(180),
      supplyToDeviceM: between(100, 150),
    });
  });
});

describe('with supplies that are not placed', () => {
  it('the placed ones bound the most only', () => {
    const layout = layoutOf(TREE, { S: 0, a: 1, b: 3 });
    const { supplyToDeviceM, wanted } = figures({ layout }, { ...TWO, supplies: ['S', 'T'] });
    expect(supplyToDeviceM).toEqual(between(0, 130));
    expect(wanted).toEqual(['where 1 of 2 supplies sit']);
  });

  it('nothing but the whole cable bounds it if none is placed', () => {
    const layout = layoutOf(TREE, { a: 1, b: 3 });
    expect(figures({ layout }, TWO).supplyToDeviceM).toEqual(between(0, 150));
  });

  it('chokes are at most as far apart as those placed, or as the cable reaches', () => {
    const layout = layoutOf(TREE, { S: 0, T: 2 });
    const apart = (choked: string[]) => figures({ layout }, { supplies: choked, choked }).chokesApartM;
    expect(apart(['S', 'T', 'U'])).toEqual(between(0, 150));
    expect(apart(['S', 'U'])).toEqual(between(0, 150));
    expect(apart(['S'])).toBeNull();
  });
});

describe('with a layout in pieces', () => {
  const PIECES: RunSpec[] = [...TREE, [4, 5, 40]];

  it('no length is made up for what no run joins', () => {
    const layout = layoutOf(PIECES, { S: 0, T: 4, a: 1, b: 5 });
    const { supplyToDeviceM, deviceToDeviceM, wanted } = figures({ layout }, TWO);
    expect([supplyToDeviceM, deviceToDeviceM]).toEqual([between(100, null), between(0, null)]);
    expect(wanted).toEqual(['point p4 is not joined to a supply by any run']);
    expect(figures({ layout }, { choked: ['S', 'T'] }).chokesApartM).toEqual(between(0, null));
  });

  it('each with its supply, the distance to the supply is exact', () => {
    const layout = layoutOf(PIECES, { S: 0, T: 4, a: 1, b: 5 });
    const { supplyToDeviceM, deviceToDeviceM, wanted } = figures({ layout }, { ...TWO, supplies: ['S', 'T'] });
    expect([supplyToDeviceM, deviceToDeviceM]).toEqual([exactly(100), between(0, null)]);
    expect(wanted).toEqual(['point p4 is not joined to point p0 by any run']);
  });

  it('that devices are not placed on may still have them', () => {
    const layout = layoutOf(PIECES, { S: 0, a: 1 });
    expect(figures({ layout }, TWO)).toMatchObject({
      supplyToDeviceM: between(100, null),
      deviceToDeviceM: between(0, null),
    });
    expect(figures({ layout }, { ...TWO, supplies: ['T'] }).supplyToDeviceM).toEqual(between(0, null));
  });

  it('that hold no device do not matter to distances of those that are all placed', () => {
    const layout = layoutOf(PIECES, { S: 0, a: 1, b: 3 });
    expect(figures({ layout }, TWO)).toMatchObject({ supplyToDeviceM: exactly(130), deviceToDeviceM: exactly(30) });
  });

  it('three are named, the others counted', () => {
    const scattered = Array.from({ length: 6 }, (_, at): RunSpec => [2 * at, 2 * at + 1, 5]);
    const { wanted } = figures({ layout: layoutOf(scattered, { S: 0 }) }, { supplies: ['S'] });
    expect(wanted).toEqual([
      'point p2 is not joined to a supply by any run',
      'point p4 is not joined to a supply by any run',
      'point p6 is not joined to a supply by any run',
      'the same of 2 further parts of the layout',
    ]);
  });
});

describe('without a layout', () => {
  const hung: Hung = { devices: ['a', 'b'], supplies: ['S', 'T'], choked: ['S', 'T'] };
  const SHAPE = 'the runs of its cable, and where devices and supplies sit';

  it('nothing is known, and all is wanted', () => {
    expect(figures({}, hung)).toEqual({
      totalM: UNKNOWN,
      supplyToDeviceM: UNKNOWN,
      deviceToDeviceM: UNKNOWN,
      chokesApartM: UNKNOWN,
      wanted: [
        SHAPE,
        'the cable from the nearest supply to the device that is farthest from one',
        'the length of all its cable',
      ],
    });
  });

  it('the length of all cable bounds every distance', () => {
    const { wanted, ...lengths } = figures({ totalLengthM: 400 }, hung);
    expect(lengths).toEqual({
      totalM: exactly(400),
      supplyToDeviceM: between(0, 400),
      deviceToDeviceM: between(0, 400),
      chokesApartM: between(0, 400),
    });
    expect(wanted).toHaveLength(2);
  });

  it('the farthest device is exact, and with one supply bounds twice its distance between devices', () => {
    const farthest = figures({ farthestM: 120 }, hung);
    expect([farthest.supplyToDeviceM, farthest.deviceToDeviceM]).toEqual([exactly(120), UNKNOWN]);
    expect(figures({ farthestM: 120 }, TWO).deviceToDeviceM).toEqual(between(0, 240));
    expect(figures({ farthestM: 120, totalLengthM: 200 }, TWO).deviceToDeviceM).toEqual(between(0, 200));
  });

  it('there is no distance without two ends', () => {
    expect(figures({ farthestM: 120, totalLengthM: 200 }, { devices: ['a'] })).toMatchObject({
      supplyToDeviceM: UNKNOWN,
      deviceToDeviceM: UNKNOWN,
      chokesApartM: null,
    });
    expect(figures({ farthestM: 120 }, { supplies: ['S'] }).supplyToDeviceM).toEqual(UNKNOWN);
  });
});

/**
 * A true installation, and a sheet that knows less of it: every run has a point in its middle that the sheet does not
 * name, spurs are missing, and some of what hangs there is not placed.
 */
const halfKnown = fc
  .record({
    runs: fc.oneof(treeRuns, joinedRuns),
    spurs: fc.array(fc.tuple(fc.nat(), fc.integer({ min: 1, max: 60 })), { maxLength: 3 }),
    devices: fc.array(fc.tuple(fc.nat(), fc.boolean()), { minLength: 2, maxLength: 6 }),
    supplies: fc.array(fc.tuple(fc.nat(), fc.boolean()), { minLength: 1, maxLength: 3 }),
  })
  .map(({ runs, spurs, devices, supplies }) => {
    const known = layoutOf(runs).points.length;
    const halves = runs.flatMap(([from, to, lengthM], at): RunSpec[] => [
      [from, known + at, lengthM / 2],
      [known + at, to, lengthM / 2],
    ]);
    const drawn = known + runs.length;
    const hanging = spurs.map(([pick, lengthM], at): RunSpec => [pick % (drawn + at), drawn + at, lengthM]);
    const all = drawn + spurs.length;
    const at = [...devices, ...supplies].map(([pick, isPlaced]) => (isPlaced ? pick % known : pick % all));
    const ids = at.map((_, index) => (index < devices.length ? `d${index}` : `s${index}`));
    const placed = ids.map((id, index) => [id, at[index] ?? 0] as const);
    const told = placed.filter((_, index) => [...devices, ...supplies][index]?.[1]);
    const truth = layoutOf([...halves, ...hanging], Object.fromEntries(placed));
    return {
      truth,
      sheet: { layout: layoutOf(runs, Object.fromEntries(told)), totalLengthM: totalLengthM(truth) },
      hung: {
        devices: ids.slice(0, devices.length),
        supplies: ids.slice(devices.length),
        choked: ids.slice(devices.length),
      },
    };
  });

/** The exact one lies within, and what is said to be exact is. */
function expectWithin(exact: Bounds | null, bounds: Bounds | null) {
  if (exact === null) return expect(bounds).toBeNull();
  expect(exact.leastM).toBe(exact.mostM);
  expect(bounds?.leastM ?? 0).toBeLessThanOrEqual(Number(exact.leastM));
  expect(bounds?.mostM ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(Number(exact.mostM));
}

describe('the bounds', () => {
  it('enclose what is true, whatever the sheet does not know', () => {
    fc.assert(
      fc.property(halfKnown, ({ truth, sheet, hung }) => {
        const exact = figures({ layout: truth }, hung);
        const farthestM = exact.supplyToDeviceM.mostM;
        const { layout, totalLengthM: allM } = sheet;
        const sheets = [sheet, { ...sheet, farthestM }, { farthestM }, { totalLengthM: allM }, { layout: truth }];
        for (const said of sheets) {
          const bounds = figures(said, hung);
          expectWithin(exact.supplyToDeviceM, bounds.supplyToDeviceM);
          expectWithin(exact.deviceToDeviceM, bounds.deviceToDeviceM);
          expectWithin(exact.chokesApartM, bounds.chokesApartM);
        }
        expect(figures({ layout, totalLengthM: allM }, hung).totalM).toEqual(exact.totalM);
      }),
      { numRuns: 500 },
    );
  });
});
