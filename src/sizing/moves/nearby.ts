import type { Nearness, Spot } from './nearness.js';
import type { Target } from './targets.js';

/** The targets that the places of devices lead to: of hundreds a device is near to a few. */
export class Nearby {
  readonly #boards = new Map<string, Target[]>();
  readonly #sheetBoards = new Map<string, Target[]>();
  readonly #floors = new Map<string, Target[]>();
  readonly #around = new Map<string, Target[]>();

  constructor(readonly targets: readonly Target[]) {
    for (const target of targets) {
      const { boards, sheetBoards, floors, around } = target.reach;
      enter(this.#boards, boards, target);
      enter(this.#sheetBoards, sheetBoards, target);
      enter(this.#floors, floors, target);
      enter(this.#around, around, target);
    }
  }

  /**
   * For each target the positions of the spots that are at least so near, rising; the targets in their order. Near is
   * what shares a place by `sharedPlace`.
   */
  positionsNear(spots: readonly Spot[], nearness: Nearness): ReadonlyMap<Target, readonly number[]> {
    if (nearness === 'electrically possible') {
      const all = [...spots.keys()];
      return new Map(this.targets.map((target) => [target, all]));
    }
    const found = new Map<Target, number[]>();
    for (const [position, spot] of spots.entries()) {
      for (const target of new Set(this.#near(spot, nearness))) {
        const positions = found.get(target);
        if (positions === undefined) found.set(target, [position]);
        else positions.push(position);
      }
    }
    return new Map(this.targets.flatMap((target) => entryOf(found, target)));
  }

  #near({ board, sheetBoards, floor, around }: Spot, nearness: Nearness): Target[] {
    const listed = (index: ReadonlyMap<string, Target[]>, place: string | null) =>
      place === null ? [] : (index.get(place) ?? []);
    const onBoard = [...listed(this.#boards, board), ...sheetBoards.flatMap((one) => listed(this.#sheetBoards, one))];
    if (nearness === 'same board or room') return onBoard;
    return [...onBoard, ...listed(this.#around, floor), ...around.flatMap((one) => listed(this.#floors, one))];
  }
}

function enter(index: Map<string, Target[]>, places: Iterable<string>, target: Target): void {
  for (const place of places) {
    const there = index.get(place);
    if (there === undefined) index.set(place, [target]);
    else there.push(target);
  }
}

function entryOf(found: ReadonlyMap<Target, number[]>, target: Target): [Target, number[]][] {
  const positions = found.get(target);
  return positions === undefined ? [] : [[target, positions]];
}
