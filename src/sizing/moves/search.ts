import type { Balance } from '../../electrical/balance.js';
import type { Segment } from '../../plant/plant.js';
import { NOBODY, type Tell } from '../../progress.js';
import { sum } from '../../units.js';
import { demandOf, NO_COUPLERS } from '../demand.js';
import type { Sized, SizingWords } from '../sized.js';
import { conditionsOf, rivalTexts } from './conditions.js';
import { type Found, Leaving } from './leaving.js';
import type { Moves } from './moves.js';
import { Nearby } from './nearby.js';
import { NEARNESSES, type Nearness, sharedPlace, spotOf } from './nearness.js';
import { Places } from './places.js';
import { roomOf } from './room.js';
import { type CouplersOn, targetsOf } from './targets.js';

/**
 * The moves that help, by the segment that devices leave: one whose supplies carry neither its load nor what is planned
 * for it, but would carry the rest. Of the segments with room, the best of the nearest that there are: the fewest devices,
 * then the most room left, then the order of the documents. Each move stands by itself, as if there were no other.
 * @param couplersOn those of lines that are proposed, by the segment that they would hang on
 */
export function movesOf(
  sized: Omit<Sized, 'installation'>,
  couplersOn: CouplersOn = () => NO_COUPLERS,
  tell: Tell = NOBODY,
): ReadonlyMap<Segment, Moves> {
  const search = new MoveSearch(sized, couplersOn);
  const found = new Map<Segment, Moves>();
  for (const [index, balance] of sized.balances.entries()) {
    tell(index / sized.balances.length);
    const moves = search.movesFor(balance);
    if (moves !== null) found.set(balance.segment, moves);
  }
  return withRivals(found, sized.words);
}

/** Says of moves to one segment that each is reckoned without the others. */
function withRivals(found: ReadonlyMap<Segment, Moves>, words: SizingWords): ReadonlyMap<Segment, Moves> {
  const leaving = new Map<Segment, Segment[]>();
  for (const [from, { to }] of found) {
    const sources = leaving.get(to);
    if (sources === undefined) leaving.set(to, [from]);
    else sources.push(from);
  }
  return new Map(
    [...found].map(([from, moves]) => {
      const conditions = [...moves.conditions, ...rivalTexts(from, moves.to, leaving.get(moves.to) ?? [], words)];
      return [from, { ...moves, conditions }];
    }),
  );
}

/**
 * So many segments are looked at, those with the most room: as many as 16 × 16 lines (volume 3/2/2 §1.3) of four segments
 * each, which is what three repeaters make of a line (from memory, not confirmed).
 */
const MOST_TARGETS = 1024;

class MoveSearch {
  readonly #places: Places;
  readonly #nearby: Nearby;
  readonly #isCut: boolean;

  constructor(
    readonly sized: Omit<Sized, 'installation'>,
    readonly couplersOn: CouplersOn,
  ) {
    this.#places = new Places(sized.balances.map(({ segment }) => segment));
    const targets = targetsOf(sized, this.#places, couplersOn);
    this.#nearby = new Nearby(targets.slice(0, MOST_TARGETS));
    this.#isCut = targets.length > MOST_TARGETS;
  }

  movesFor(balance: Balance): Moves | null {
    const { segment } = balance;
    const { policy, site } = this.sized;
    const demand = demandOf(balance, this.sized, this.couplersOn(segment));
    if ('because' in demand || demand.segments.length > 1) return null;
    const room = roomOf(demand, policy);
    if (room === null || room >= 0) return null;
    const leaving = new Leaving(segment, -room, (device) => spotOf(device, segment, this.#places, site));
    for (const nearness of NEARNESSES) {
      const found = leaving.best(this.#nearby, nearness);
      if (found !== null) return this.#moves(found, nearness, leaving);
    }
    return null;
  }

  #moves({ target, set, isLeast }: Found, nearness: Nearness, leaving: Leaving): Moves {
    const loads = set.positions.flatMap((position) => leaving.movable[position] ?? []);
    const devices = loads.map(({ device }) => device);
    const shared = devices.flatMap((device) => sharedPlace(leaving.spotOf(device), target.reach, nearness) ?? []);
    const assumed = loads.filter(({ current }) => current.origin === 'assumed');
    const moves = {
      nearness,
      sharedPlaces: [...new Set(shared)],
      to: target.segment,
      devices,
      movedUa: set.ua,
      assumedDevices: assumed.length,
      assumedUa: sum(assumed.map(({ current }) => current.ua)),
      leftUa: set.ua - leaving.needUa,
      marginThereUa: target.roomUa - set.ua,
      isLeast: isLeast && (!this.#isCut || devices.length === 1),
      isVoltageOpen: target.hasVoltages,
    };
    return { ...moves, conditions: conditionsOf(moves, { ...this.sized, from: leaving.segment, target }) };
  }
}
