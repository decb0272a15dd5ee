/**
 * A direct-current network of resistances, and what its solution says. Volts, ohms, amperes and watts throughout. It
 * knows nothing of a plant or a policy.
 */
export interface Network {
  /** How many points there are; they are called 0 … nodes − 1. */
  readonly nodes: number;
  readonly branches: readonly Branch[];
  readonly sources: readonly Source[];
  readonly loads: readonly NetworkLoad[];
}

/** A resistance between two points. Below `LEAST_OHM`, 0 included, it counts as that. */
export interface Branch {
  readonly from: number;
  readonly to: number;
  readonly ohm: number;
}

/**
 * An electromotive force behind a resistance (below `LEAST_OHM` it counts as that). It takes no current, and gives no
 * more than its limit: from there on it gives the limit at whatever lower voltage there is.
 */
export interface Source {
  readonly node: number;
  readonly emfV: number;
  readonly ohm: number;
  /** Infinity: none. */
  readonly limitA: number;
  /** Takes current too, as an ideal source does. No supply of a bus is so; examples of handbooks are. */
  readonly twoWay?: boolean;
}

/** What is drawn at a point: the same current, or the same power, at whatever voltage there is. */
export type NetworkLoad =
  | { readonly node: number; readonly amps: number }
  | { readonly node: number; readonly watts: number };

export type Solution = Solved | Unsolvable;

export interface Solved {
  readonly outcome: 'solved';
  /** Of each point; 0 where it has no way to any source. */
  readonly voltages: readonly number[];
  /** What each source gives; below 0 only where it is two-way. */
  readonly sourceAmps: readonly number[];
  readonly sourceStates: readonly SourceState[];
  /** In the direction from → to. */
  readonly branchAmps: readonly number[];
}

/** `blocked`: the network is above its electromotive force. `limited`: it gives its limit. */
export type SourceState = 'feeding' | 'blocked' | 'limited';

export interface Unsolvable {
  readonly outcome: 'unsolvable';
  readonly because: Cause;
}

/**
 * - `beyond the limit of the supplies`: where it fails, a supply gives its limit or all of them together give less than
 *   is drawn.
 * - `more power than the cable carries`: no limit is reached, and still there is no state with voltage at every load.
 */
export type Cause =
  | 'beyond the limit of the supplies'
  | 'more power than the cable carries'
  | 'no source reaches the load';

/** A micro-ohm stands for no resistance at all, as a conductance has to be finite: 1 A over it drops 1 µV. */
export const LEAST_OHM = 1e-6;

/** Conductance of a resistance, S. */
export function conductance(ohm: number): number {
  return 1 / Math.max(ohm, LEAST_OHM);
}

/** Whether a load draws anything at all. */
export function draws(load: NetworkLoad): boolean {
  return ('amps' in load ? load.amps : load.watts) > 0;
}
