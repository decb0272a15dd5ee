import { describe, expect, it } from 'vitest';
import { Places } from '../../../src/sizing/moves/places.js';
import { consumer, contextOf } from '../../support/plants.js';

/** The places of an installation in which a device is in each of these. */
function placesOf(...paths: readonly string[]): Places {
  const devices = paths.map((path, at) => consumer(at + 1, 10, { places: path.split(' / ') }));
  const { balances } = contextOf({ lines: [{ line: '1.1', segments: [devices] }] });
  return new Places(balances.map(({ segment }) => segment));
}

const HOUSE = ['House / Ground / Kitchen', 'House / Ground / Utility room / Board H', 'House / Upper / Bath'];

describe('places', () => {
  it.each([
    ['a room', HOUSE, 'House / Ground / Kitchen', 'House / Ground / Kitchen', 'House / Ground'],
    ['a board in a room', HOUSE, HOUSE[1], HOUSE[1], 'House / Ground / Utility room'],
    ['a room with a board in it', HOUSE, 'House / Ground / Utility room', null, 'House / Ground / Utility room'],
    ['a floor', HOUSE, 'House / Ground', null, 'House / Ground'],
    ['a building', HOUSE, 'House', null, null],
    ['a building with nothing in it that is known', ['House'], 'House', null, null],
    ['boards that stand for themselves, as in a plan', ['Board G', 'Board U'], 'Board G', 'Board G', null],
    ['a room right in a building', ['House / Hall'], 'House / Hall', 'House / Hall', null],
    [
      'a building in a campus, two levels of places above a board',
      ['Site / B / Roof', 'Site / B / F1 / R1 / Board'],
      'Site / B / Roof',
      'Site / B / Roof',
      null, // three levels are within Site / B: it is no floor
    ],
    ['the same with one level less', ['S / B / Roof', 'S / B / F1 / R1'], 'S / B / Roof', 'S / B / Roof', 'S / B'],
  ])('tell of %s', (_, paths, path, board, floor) => {
    expect(placesOf(...paths).of(path ?? null)).toMatchObject({ board, floor });
  });

  it('tell what a path goes through, but for the outermost place', () => {
    expect(placesOf(...HOUSE).of(HOUSE[1] ?? null).around).toEqual([
      'House / Ground',
      'House / Ground / Utility room',
      'House / Ground / Utility room / Board H',
    ]);
  });

  it('tell nothing where there is no path, or one that is of no building', () => {
    const path = (length: number) => `House / ${'x'.repeat(length - 'House / '.length)}`;
    expect(placesOf(path(1000)).of(path(1000)).board).toBe(path(1000));
    expect(placesOf(path(1001)).of(path(1001))).toEqual({ board: null, floor: null, around: [] });
    expect(placesOf(path(9)).of(null)).toEqual({ board: null, floor: null, around: [] });
  });
});
