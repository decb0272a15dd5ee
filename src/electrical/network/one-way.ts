import type { Folding } from './folding.js';
import { solveLinear } from './linear.js';
import { conductance, type Source } from './network.js';

/** What is drawn apart from the sources, made linear: at a drop u a point draws drawn + shunt·u, A and S. */
export interface Demand {
  readonly shunts: Float64Array;
  readonly drawn: Float64Array;
}

export interface Fed {
  /** How far below the reference each point is, V. */
  readonly drops: Float64Array;
  readonly blocked: ReadonlySet<Source>;
}

/**
 * Solves a linear network whose sources take no current: all feed at first, those that would take current are blocked,
 * and so on until none does.
 *
 * Why that ends, and at the right set. The matrix is an M-matrix (positive definite, nothing positive beside the
 * diagonal), so taking away a current that a point loses raises voltages and lowers none. Blocking what takes current
 * takes away such currents only; a blocked source thus sees its voltage rise further, and stays blocked rightly. The set
 * only grows, so there are at most as many rounds as sources. And every round's voltages are below those of any true
 * state, so what is blocked is blocked in each of them: if the matrix is positive definite in the greatest true state,
 * it is in every round.
 * @param referenceV what drops count from: the greatest electromotive force
 * @returns null if there is no state, the matrix having lost its definiteness
 */
export function feed(folding: Folding, sources: readonly Source[], demand: Demand, referenceV: number): Fed | null {
  const blocked = new Set<Source>();
  for (;;) {
    const feeding = sources.filter((source) => !blocked.has(source));
    const drops = solveFed(folding, feeding, demand, referenceV);
    if (drops === null) return null;
    const taking = feeding.filter((source) => !source.twoWay && sourceAmps(source, drops, referenceV) < 0);
    // Where all would take current nothing is drawn beyond rounding: one has to hold the voltage.
    if (taking.length === 0 || taking.length === feeding.length) return { drops, blocked };
    for (const source of taking) blocked.add(source);
  }
}

/** What a source that is neither blocked nor limited gives, A. */
export function sourceAmps({ node, emfV, ohm }: Source, drops: Float64Array, referenceV: number): number {
  return conductance(ohm) * ((drops[node] as number) - (referenceV - emfV));
}

function solveFed(
  folding: Folding,
  feeding: readonly Source[],
  demand: Demand,
  referenceV: number,
): Float64Array | null {
  if (feeding.length === 0) return null;
  const shunts = demand.shunts.slice();
  const drawn = demand.drawn.slice();
  for (const { node, emfV, ohm } of feeding) {
    shunts[node] = (shunts[node] as number) + conductance(ohm);
    drawn[node] = (drawn[node] as number) + conductance(ohm) * (referenceV - emfV);
  }
  return solveLinear(folding, shunts, drawn);
}
