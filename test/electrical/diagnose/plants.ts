import type { Drawn } from './faults.js';

/** A tree, all from one supply. */
export const TREE: Drawn = {
  runs: [
    [0, 1, 100],
    [1, 2, 150],
    [2, 3, 200],
    [1, 4, 220],
  ],
  supplies: [[640, 0]],
  devices: [
    [60, 1],
    [50, 2],
    [30, 2],
    [70, 3],
    [50, 4],
  ],
};

/** A line with a supply at each end. */
export const TWO: Drawn = {
  runs: [
    [0, 1, 120],
    [1, 2, 150],
    [2, 3, 150],
    [3, 4, 120],
  ],
  supplies: [
    [320, 0],
    [320, 4],
  ],
  devices: [
    [60, 1],
    [80, 2],
    [70, 3],
  ],
};

/** A ring. */
export const RING: Drawn = {
  runs: [
    [0, 1, 120],
    [1, 2, 150],
    [2, 3, 150],
    [3, 0, 120],
  ],
  supplies: [[640, 0]],
  devices: [
    [100, 1],
    [80, 2],
    [120, 3],
  ],
};

/** Two cables from one small supply. */
export const FORK: Drawn = {
  runs: [
    [0, 1, 100],
    [0, 2, 120],
  ],
  supplies: [[160, 0]],
  devices: [
    [60, 1],
    [40, 2],
  ],
};
