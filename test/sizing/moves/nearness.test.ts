import { describe, expect, it } from 'vitest';
import { choke, consumer, coupler, type DeviceSpec, type PlantSpec, supply } from '../../support/plants.js';
import { fed, lines, movesIn, told } from './support.js';

const HALL = 'House / Ground / Hall';
const BOARD = 'House / Ground / Utility room / Board G';
const KITCHEN = 'House / Ground / Kitchen';
const BATH = 'House / Upper / Bath';

const at = (path: string) => ({ places: path.split(' / ') });

/** 12 mA too much: 20 mA in the first of two places are to be moved, or 120 mA in the other. */
const leaving = (first: string, second = BATH) => fed(160, [20, 120], [first, second]);

/** Room for 255 mA around one device, somewhere. */
const there = (path: string) => fed(320, [1], [path]);

const near = (plant: PlantSpec, label = '1.1') => {
  const moves = movesIn(plant).get(label);
  return moves && [moves.nearness, moves.to.line.address, ...moves.sharedPlaces];
};

describe('how near a segment is', () => {
  it.each<[string, PlantSpec, readonly string[]]>([
    ['a device of it is in the same room', lines(leaving(HALL), there(HALL)), ['same board or room', '1.2', HALL]],
    ['one is on the same floor', lines(leaving(HALL), there(KITCHEN)), ['same floor', '1.2', 'House / Ground']],
    ['one is on a board on the floor', lines(leaving(HALL), there(BOARD)), ['same floor', '1.2', 'House / Ground']],
    [
      'the device is on a board on its floor',
      lines(leaving(BOARD), there(HALL)),
      ['same floor', '1.2', 'House / Ground'],
    ],
    [
      'the building alone is the same',
      lines(leaving('House / Ground / Hall', KITCHEN), there(BATH)),
      ['electrically possible', '1.2'],
    ],
    [
      'a room has the same name on another floor',
      lines(leaving('House / Ground / Hall', KITCHEN), there('House / Upper / Hall')),
      ['electrically possible', '1.2'],
    ],
    [
      'the floor has the same name in another building',
      lines(leaving('Site / A / F1 / R1', 'Site / A / F1 / R2'), there('Site / B / F1 / R1')),
      ['electrically possible', '1.2'],
    ],
    ['nobody knows where it is', lines(leaving(HALL), fed(320, [1])), ['electrically possible', '1.2']],
    ['nobody knows where the devices are', lines(fed(160, [20, 120]), there(HALL)), ['electrically possible', '1.2']],
    [
      'its supply is on the board',
      lines(leaving(BOARD), [{ ...supply(320), ...at(BOARD) }, consumer(1, 1)]),
      ['same board or room', '1.2', BOARD],
    ],
    [
      'its choke is on the board',
      lines(leaving(BOARD), [{ ...choke(), ...at(BOARD) }, ...fed(320, [1])]),
      ['same board or room', '1.2', BOARD],
    ],
    [
      'its cable comes to the coupler of a line below',
      {
        lines: [
          { line: '1.0', segments: [fed(320, [1])] },
          { line: '1.1', segments: [leaving(HALL)] },
          { line: '1.2', segments: [[{ ...coupler(1), ...at(HALL) }, ...fed(160, [127])]] },
        ],
      },
      ['same board or room', '1.0', HALL],
    ],
    [
      'only what is no part of the bus is there',
      lines(leaving(HALL), [
        ...fed(320, [1]),
        { name: 'Rail', ...at(HALL), is: { hasIndividualAddress: false, isAccessory: true } },
      ]),
      ['electrically possible', '1.2'],
    ],
    ['boards of a plan are the same', lines(leaving('G', 'U'), there('G')), ['same board or room', '1.2', 'G']],
    ['all that is known is the building', lines(leaving('H', 'H'), there('H')), ['electrically possible', '1.2']],
  ])('%s', (_, plant, expected) => {
    expect(near(plant)).toEqual(expected);
  });

  it('goes before the number of devices and the room that is left', () => {
    const full = fed(160, [10, 10, 120], [HALL, HALL, BATH]); // 12 mA too much
    const small = fed(160, [100], [HALL]);
    const large = fed(640, [1]);
    expect(told(lines(full, large, small))).toEqual({
      nearness: 'same board or room',
      to: '1.3',
      devices: ['1.1.1', '1.1.2'],
      mA: [20, 8, 8],
    });
    expect(told(lines(full, large, fed(160, [109], [HALL])))).toEqual({
      nearness: 'electrically possible', // 19 mA of room are too little for both
      to: '1.2',
      devices: ['1.1.3'],
      mA: [120, 108, 391],
    });
  });

  it('goes before the room, but of the same nearness the fewest devices do', () => {
    const full = fed(160, [10, 10, 120], [HALL, HALL, KITCHEN]);
    const plant = lines(full, fed(640, [1], [HALL]), fed(320, [1], [KITCHEN]));
    expect(told(plant)).toMatchObject({ nearness: 'same board or room', to: '1.3', devices: ['1.1.3'] });
  });

  it('leaves the first of two that are alike, though other devices are near to each', () => {
    const full = fed(160, [20, 20, 100], [HALL, KITCHEN, BATH]);
    expect(told(lines(full, there(KITCHEN), there(HALL)))).toMatchObject({ to: '1.2', devices: ['1.1.2'] });
    expect(told(lines(full, there(HALL), there(KITCHEN)))).toMatchObject({ to: '1.2', devices: ['1.1.1'] });
  });

  it('is that of the device which is farthest from it', () => {
    const full = fed(160, [10, 10, 120], [HALL, KITCHEN, BATH]);
    expect(near(lines(full, there(HALL)))).toEqual(['same floor', '1.2', HALL, 'House / Ground']);
  });
});

describe('boards of the site sheet', () => {
  const supplies = (one: string, other: string) => ({
    supplies: [
      { supply: 'S1', board: one },
      { supply: 'S2', board: other },
    ],
  });
  const named = (name: string, ma: number, more: Partial<DeviceSpec> = {}) => ({ ...supply(ma), name, ...more });
  const to = [named('S2', 320), consumer(1, 1)];
  const runs = {
    segments: [
      {
        segment: '1.1',
        cable: '0.8 mm pair',
        runs: [{ from: 'board', to: 'end', length: '10 m' }],
        places: [
          { at: 'board', devices: ['S1', '1.1.1'] },
          { at: 'end', devices: ['1.1.2'] },
        ],
      },
    ],
  };
  const byCable = lines([named('S1', 160), consumer(1, 20), consumer(2, 20), consumer(3, 100)], to);
  const byPlace = lines(
    [named('S1', 160, at(BOARD)), consumer(1, 20, at(BOARD)), consumer(2, 20), consumer(3, 100)],
    to,
  );

  it.each<[string, PlantSpec, readonly string[]]>([
    [
      'are where a device sits at the same point of the cable as its supply',
      { ...byCable, sheet: { ...supplies('TB-1', 'TB-1'), ...runs } },
      ['same board or room', '1.2', 'TB-1'],
    ],
    [
      'are another one by another name',
      { ...byCable, sheet: { ...supplies('TB-1', 'TB-2'), ...runs } },
      ['electrically possible', '1.2'],
    ],
    [
      'say nothing of a device of no point',
      { ...byCable, sheet: supplies('TB-1', 'TB-1') },
      ['electrically possible', '1.2'],
    ],
    [
      'are where the archive puts a device with its supply',
      { ...byPlace, sheet: supplies('TB-1', 'TB-1') },
      ['same board or room', '1.2', 'TB-1'],
    ],
  ])('%s', (_, plant, expected) => {
    expect(near(plant)).toEqual(expected);
  });

  it('are those of a device at that point, of no other', () => {
    const sheet = { ...supplies('TB-1', 'TB-1'), ...runs };
    const plant = lines([named('S1', 160), consumer(1, 11), consumer(2, 29), consumer(3, 100)], to);
    expect(told({ ...plant, sheet })).toMatchObject({ nearness: 'electrically possible', devices: ['1.1.2'] });
    expect(told({ ...byCable, sheet })?.devices).toEqual(['1.1.1']);
  });

  it('come with the supply that a sheet states for a segment', () => {
    const plant = lines(
      [named('S1', 160, at(BOARD)), consumer(1, 20, at(BOARD)), consumer(2, 120)],
      [choke(), consumer(1, 1)],
      [named('S2', 320), named('S3', 160), consumer(1, 127)],
    );
    const segments = [
      { segment: '1.2', fedBy: ['S2'] },
      { segment: '1.3', fedBy: ['S3'] },
    ];
    const sheet = { ...supplies('TB-1', 'TB-1'), segments };
    expect(near({ ...plant, sheet })).toEqual(['same board or room', '1.2', 'TB-1']);
  });
});

describe('a near move', () => {
  it('is told as such, without promising a way for the cable', () => {
    expect(movesIn(lines(leaving(HALL), there(KITCHEN))).get('1.1')?.conditions[0]).toBe(
      'By the places that are named the cable of line 1.2 comes to the same floor; by which way is for the site to tell.',
    );
  });
});
