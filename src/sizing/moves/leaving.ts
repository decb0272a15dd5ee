import type { Device, Load, Segment } from '../../plant/plant.js';
import { type DeviceSet, LeastSets, MOST_CELLS } from './least-set.js';
import type { Nearby } from './nearby.js';
import type { Nearness, Spot } from './nearness.js';
import type { Target } from './targets.js';

/** A segment that can take devices, and those that it takes. */
export interface Found {
  readonly target: Target;
  readonly set: DeviceSet;
  readonly isLeast: boolean;
}

/** A segment that devices have to leave. */
export class Leaving {
  /** In the order of the document. */
  readonly movable: readonly Load[];
  readonly #spots: readonly Spot[];

  constructor(
    readonly segment: Segment,
    readonly needUa: number,
    readonly spotOf: (device: Device) => Spot,
  ) {
    this.movable = segment.loads.filter(isMovable);
    this.#spots = this.movable.map(({ device }) => spotOf(device));
  }

  /** The best of the targets to which some devices are at least so near; null where none of them can take enough. */
  best(nearby: Nearby, nearness: Nearness): Found | null {
    let best: Omit<Found, 'isLeast'> | null = null;
    let open = Number.POSITIVE_INFINITY; // so few might do where that is not worked out
    const served = new Set<LeastSets>();
    const setsOf = this.#setFinder();
    for (const [target, near] of nearby.positionsNear(this.#spots, nearness)) {
      if (target.roomUa < this.needUa) break; // and so have all after it
      if (target.segment.medium.id !== this.segment.medium.id) continue;
      const sets = setsOf(near);
      if (served.has(sets) || (best !== null && sets.fewest > best.set.positions.length)) continue;
      if (!sets.isExact) open = Math.min(open, sets.fewest);
      const found = sets.within({ roomUa: target.roomUa, places: target.placesFor(this.segment) });
      if (found === null) continue;
      served.add(sets); // with less room the same devices can do no better
      const set = { ...found, positions: found.positions.map((position) => near[position] ?? 0) };
      if (best === null || isBetter({ target, set }, best)) best = { target, set };
    }
    return best && { ...best, isLeast: best.set.positions.length <= open };
  }

  /** Targets to which the same devices are near share what is worked out of these. */
  #setFinder(): (positions: readonly number[]) => LeastSets {
    const known = new Map<string, LeastSets>();
    const ofList = new Map<readonly number[], LeastSets>(); // one list for all targets, where nearness does not count
    let cells = MOST_CELLS;
    return (positions) => {
      const already = ofList.get(positions);
      if (already !== undefined) return already;
      const key = positions.join();
      let sets = known.get(key);
      if (sets === undefined) {
        const currents = positions.map((position) => this.movable[position]?.current.ua ?? 0);
        sets = new LeastSets(currents, this.needUa, cells);
        cells -= sets.cells;
        known.set(key, sets);
      }
      ofList.set(positions, sets);
      return sets;
    };
  }
}

/**
 * Couplers and repeaters hold the topology together. What takes further addresses is the way into its line from outside,
 * and these would have to go along.
 */
function isMovable({ device, chargedAs, current }: Load): boolean {
  const isOfLine = chargedAs !== 'participant' || device.role !== 'consumer' || device.additionalAddresses.length > 0;
  return !isOfLine && current.ua > 0;
}

/** Targets come with the most room first and then in the order of the documents, so the earlier one stays on a tie. */
function isBetter(one: Omit<Found, 'isLeast'>, other: Omit<Found, 'isLeast'>): boolean {
  const devices = one.set.positions.length - other.set.positions.length;
  const left = ({ target, set }: Omit<Found, 'isLeast'>) => target.roomUa - set.ua;
  return devices < 0 || (devices === 0 && left(one) > left(other));
}
