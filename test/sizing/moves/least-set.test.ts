import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DeviceSet, LeastSets, MOST_CELLS } from '../../../src/sizing/moves/least-set.js';

const anywhere = { roomUa: 1_000_000, places: 256 };

/** What the set is made of, and whether it has to be the least. */
function found(currentsUa: readonly number[], needUa: number, room = {}, mostCells = MOST_CELLS) {
  return new LeastSets(currentsUa, needUa, mostCells).within({ ...anywhere, ...room })?.positions ?? null;
}

/** By hand, over all subsets: the fewest, then the least current, then the first in the order given. */
function byBruteForce(currentsUa: readonly number[], needUa: number, roomUa: number, places: number): DeviceSet | null {
  let best: DeviceSet | null = null;
  for (let mask = 1; mask < 1 << currentsUa.length; mask++) {
    const positions = [...currentsUa.keys()].filter((at) => mask & (1 << at));
    const ua = positions.reduce((total, at) => total + (currentsUa[at] ?? 0), 0);
    if (ua < needUa || ua > roomUa || positions.length > places) continue;
    if (best === null || compared({ positions, ua }, best) < 0) best = { positions, ua };
  }
  return best;
}

function compared(a: DeviceSet, b: DeviceSet): number {
  const differing = a.positions.findIndex((position, at) => position !== b.positions[at]);
  const order = differing < 0 ? 0 : (a.positions[differing] ?? 0) - (b.positions[differing] ?? 0);
  return a.positions.length - b.positions.length || a.ua - b.ua || order;
}

describe('the least set', () => {
  it.each<[string, number[], number, { roomUa?: number; places?: number }, number[] | null]>([
    ['is one device that is just enough', [5, 10, 20], 10, {}, [1]],
    ['is a larger one for one unit more', [5, 10, 20], 11, {}, [2]],
    ['is the fewest, though more would be less current', [5, 5, 20], 10, {}, [2]],
    ['is more where the fewest have no room', [5, 5, 20], 10, { roomUa: 19 }, [0, 1]],
    ['is the fewest again with room for just it', [5, 5, 20], 10, { roomUa: 20 }, [2]],
    ['is the least current of the fewest', [9, 8, 7], 14, {}, [1, 2]],
    ['is the first of those alike', [5, 5, 5, 5], 10, {}, [0, 1]],
    ['is the first in order, whatever is larger', [3, 6, 4, 5], 9, {}, [0, 1]],
    ['takes the room to the last unit', [7, 7], 14, { roomUa: 14 }, [0, 1]],
    ['is none where the room is one unit short', [7, 7], 14, { roomUa: 13 }, null],
    ['is none where no sum lies between need and room', [7, 7], 8, { roomUa: 13 }, null],
    ['takes the last place', [7, 7], 14, { places: 2 }, [0, 1]],
    ['is none where a place is lacking', [7, 7], 14, { places: 1 }, null],
    ['is all of them where that is just enough', [7, 7], 14, {}, [0, 1]],
    ['is none where all together fall short', [7, 7], 15, {}, null],
    ['is none of none', [], 1, {}, null],
  ])('%s', (_, currents, need, room, positions) => {
    expect(found(currents, need, room)).toEqual(positions);
  });

  it('is what going through all subsets finds', () => {
    const outcomes = new Set<boolean>();
    const current = fc.oneof(fc.integer({ min: 1, max: 40 }), fc.constantFrom(5, 10, 15));
    fc.assert(
      fc.property(
        fc.array(current, { maxLength: 10 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 10 }),
        (currents, needUa, roomUa, places) => {
          const set = new LeastSets(currents, needUa).within({ roomUa, places });
          expect(set).toEqual(byBruteForce(currents, needUa, roomUa, places));
          outcomes.add(set === null);
        },
      ),
      { numRuns: 2000 },
    );
    expect(outcomes.size).toBe(2);
  });

  it('is exact up to as many cells as are allowed, and says so', () => {
    const { cells } = new LeastSets([5000, 7000, 9000], 14_000); // units of 1 mA: sums 0 to 14 − 1 + 9, rows 0 to 3
    expect(cells).toBe(23 * 4);
    expect(new LeastSets([5000, 7000, 9000], 14_000, cells)).toMatchObject({ isExact: true });
    expect(new LeastSets([5000, 7000, 9000], 14_000, cells - 1)).toMatchObject({ isExact: false, cells: 0 });
  });

  it('is sought among neighbours by current where the currents are too fine for more', () => {
    expect(found([5, 9, 7], 14, {}, 0)).toEqual([1, 2]);
    expect(found([5, 9, 7], 14, { roomUa: 15 }, 0)).toBeNull(); // 5 + 9 is no pair of neighbours
    expect(found([5, 9, 7], 14, { roomUa: 15 })).toEqual([0, 1]);
  });

  it('meets need, room and places there as well, with no fewer devices than can do', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 40 }), { maxLength: 10 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 10 }),
        (currents, needUa, roomUa, places) => {
          const sets = new LeastSets(currents, needUa, 0);
          const set = sets.within({ roomUa, places });
          if (set === null) return;
          const ua = set.positions.reduce((total, at) => total + (currents[at] ?? 0), 0);
          expect(ua).toBe(set.ua);
          expect(ua >= needUa && ua <= roomUa && set.positions.length <= places).toBe(true);
          expect(new Set(set.positions).size).toBe(set.positions.length);
          expect(set.positions.length).toBeGreaterThanOrEqual(sets.fewest);
        },
      ),
      { numRuns: 1000 },
    );
  });
});
