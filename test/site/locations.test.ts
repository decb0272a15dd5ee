import { describe, expect, it } from 'vitest';
import { Locations } from '../../src/site/locations.js';

const DEVICES = ['A / Hall', 'A / Hall / Board', 'B / Hall', 'Hall', 'C / Loft / Hall / Hall', null].map(
  (location) => ({ location }),
);

/** The paths that a name can mean, each with the number of devices in it. */
function meant(name: string) {
  const locations = new Locations(DEVICES, [name, 'B / Hall', 'elsewhere']);
  return locations.find(name).map(({ path, depth, devices }) => [path, depth, devices.length]);
}

describe('a place is found', () => {
  it.each([
    ['by its whole path alone', 'Hall', [['Hall', 1, 1]]],
    ['with what is within it', 'A / Hall', [['A / Hall', 2, 2]]],
    ['by one of several that are wanted', 'B / Hall', [['B / Hall', 2, 1]]],
    ['by its middle', 'Loft', [['C / Loft', 2, 1]]],
    ['by more of its middle', 'Loft / Hall', [['C / Loft / Hall', 3, 1]]],
    ['by its end', 'Hall / Hall', [['C / Loft / Hall / Hall', 4, 1]]],
    ['not by a part of a name', 'oft', []],
    ['not by places that are not next to each other', 'C / Hall', []],
    ['not by nothing', '', []],
  ])('%s', (_, name, places) => {
    expect(meant(name)).toEqual(places);
  });

  it('as every one that the name can mean', () => {
    const locations = new Locations(DEVICES.slice(0, 3), ['Hall']);
    expect(locations.find('Hall').map(({ path }) => path)).toEqual(['A / Hall', 'B / Hall']);
  });

  it('unless its path is of no building', () => {
    const deep = (length: number) => ({ location: `Hall / ${'x'.repeat(length - 7)}` });
    expect(new Locations([deep(1000)], ['Hall']).find('Hall')).toHaveLength(1);
    expect(new Locations([deep(1001)], ['Hall']).find('Hall')).toHaveLength(0);
  });
});
