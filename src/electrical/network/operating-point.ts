import { foldingOf } from './folding.js';
import { type Cause, draws, type Network, type Source, type SourceState } from './network.js';
import { type Demand, type Fed, feed, sourceAmps } from './one-way.js';

export interface OperatingPoint {
  readonly voltages: Float64Array;
  readonly sources: readonly { readonly amps: number; readonly state: SourceState }[];
}

/** A step below this part of the voltage is rounding. */
const AT_REST = 1e-12;

/** A source is beyond its limit from this part on, so that a load of exactly the limit is carried whatever rounding does. */
const BEYOND_LIMIT = 1 + 1e-9;

/**
 * Rounds for each set of limited sources. Far from the greatest power Newton's method takes about 5; at it, every step
 * halves the distance, and 52 halvings exhaust a double. What still falls after 100 has nothing to come to rest at.
 */
const MOST_ROUNDS = 100;

/**
 * The greatest voltages at which a connected network with at least one source has its loads fed.
 *
 * With F the current that leaves each point, F(V) = 0 is wanted. P/V is convex, so it lies above its tangent; a source
 * gives no more than its limit. Starting from voltages at which no point is short (all at the greatest electromotive
 * force), each round takes the tangents there, counts those sources as limited that would be beyond their limit, and
 * solves what is left exactly (`one-way.ts`). That is nowhere above F, so its solution lies between the true one and the
 * last: voltages only fall, a limited source stays limited rightly, and the greatest true state is never overshot. With
 * constant currents one round does; with constant power it is Newton's method, and converges quadratically. If there is
 * no state, a round loses definiteness or a load its voltage, as otherwise the falling voltages had a limit, and that
 * were one.
 */
export function operatingPoint(whole: Network): OperatingPoint | Cause {
  const network = { ...whole, loads: whole.loads.filter(draws) };
  const folding = foldingOf(network.nodes, network.branches);
  const referenceV = network.sources.reduce((most, { emfV }) => Math.max(most, emfV), 0);
  const isLinear = network.loads.every((load) => 'amps' in load);
  const limited = new Set<Source>();
  let drops = new Float64Array(network.nodes);
  for (let round = 0; round < MOST_ROUNDS * (limited.size + 1); round++) {
    const demand = demandAt(network, drops, referenceV, limited);
    const free = network.sources.filter((source) => !limited.has(source));
    const fed = feed(folding, free, demand, referenceV);
    if (fed === null) break;
    const beyond = free.filter((source) => isBeyondLimit(source, fed, referenceV));
    for (const source of beyond) limited.add(source);
    if (!isEveryLoadFed(network, fed.drops, referenceV)) break;
    const fallV = fed.drops.reduce((most, drop, node) => Math.max(most, drop - (drops[node] as number)), 0);
    if (beyond.length === 0 && (isLinear || fallV <= AT_REST * referenceV)) {
      return pointOf(network, fed, limited, referenceV);
    }
    drops = Float64Array.from(fed.drops);
  }
  return causeOf(network, drops, referenceV, limited);
}

/** Loads by their tangents at some drops, and limited sources by what they give. */
function demandAt(
  { nodes, loads }: Network,
  drops: Float64Array,
  referenceV: number,
  limited: ReadonlySet<Source>,
): Demand {
  const shunts = new Float64Array(nodes);
  const drawn = new Float64Array(nodes);
  const draw = (node: number, amps: number) => {
    drawn[node] = (drawn[node] as number) + amps;
  };
  for (const load of loads) {
    if ('amps' in load) {
      draw(load.node, load.amps);
    } else {
      const drop = drops[load.node] as number;
      const amps = load.watts / (referenceV - drop);
      const slope = amps / (referenceV - drop);
      draw(load.node, amps - slope * drop);
      shunts[load.node] = (shunts[load.node] as number) - slope;
    }
  }
  for (const { node, limitA } of limited) draw(node, -limitA);
  return { shunts, drawn };
}

function isBeyondLimit(source: Source, { drops, blocked }: Fed, referenceV: number): boolean {
  return !blocked.has(source) && sourceAmps(source, drops, referenceV) > source.limitA * BEYOND_LIMIT;
}

function isEveryLoadFed({ loads }: Network, drops: Float64Array, referenceV: number): boolean {
  return loads.every(({ node }) => (drops[node] as number) < referenceV);
}

/** Why there is no state, judged at the last drops at which every load had voltage: too much is drawn there already. */
function causeOf(
  { loads, sources }: Network,
  drops: Float64Array,
  referenceV: number,
  limited: ReadonlySet<Source>,
): Cause {
  const limitA = sources.reduce((sum, source) => sum + source.limitA, 0);
  const drawnA = loads.reduce((sum, load) => {
    return sum + ('amps' in load ? load.amps : load.watts / (referenceV - (drops[load.node] as number)));
  }, 0);
  const isBeyond = limited.size > 0 || drawnA > limitA * BEYOND_LIMIT;
  return isBeyond ? 'beyond the limit of the supplies' : 'more power than the cable carries';
}

function pointOf(
  { sources }: Network,
  { drops, blocked }: Fed,
  limited: ReadonlySet<Source>,
  referenceV: number,
): OperatingPoint {
  return {
    voltages: drops.map((drop) => referenceV - drop),
    sources: sources.map((source) => {
      if (limited.has(source)) return { amps: source.limitA, state: 'limited' };
      if (blocked.has(source)) return { amps: 0, state: 'blocked' };
      const amps = Math.min(sourceAmps(source, drops, referenceV), source.limitA);
      return { amps: source.twoWay ? amps : Math.max(amps, 0), state: 'feeding' };
    }),
  };
}
