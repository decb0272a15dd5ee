import type { Folding } from './folding.js';

/**
 * Solves (L + diag(shunts))·drops = drawn, L being the conductances of the branches: how far below the reference each
 * point is. With a point of shunt y, drawn j and branches gᵢ to its neighbours, the pivot is p = y + Σg; each neighbour
 * gets gᵢ·y/p and gᵢ·j/p, any two of them a branch gᵢ·gₖ/p.
 *
 * That is Gaussian elimination of a symmetric matrix, written so that nothing is subtracted. Where no shunt is negative
 * every drop comes out to the precision of its inputs, however far apart the resistances are: Cholesky's decomposition
 * in doubles loses half of the digits where micro-ohms meet ohms in a mesh, which is too much to tell a load of just
 * the limit from one beyond. The matrix is positive definite exactly if every pivot is above 0.
 * @param shunts S, of each point
 * @param drawn A, of each point
 * @returns V, of each point; null if the matrix is not positive definite
 */
export function solveLinear(
  { steps, conductances }: Folding,
  shunts: Float64Array,
  drawn: Float64Array,
): Float64Array | null {
  const state = { steps, conductances: conductances.slice(), shunts: shunts.slice(), drawn: drawn.slice() };
  const pivots = fold(state);
  return pivots && unfold(state, pivots);
}

interface State extends Folding {
  readonly shunts: Float64Array;
  readonly drawn: Float64Array;
}

/** The value at a place that is known to exist. */
const at = (values: Float64Array, place: number) => values[place] as number;

/** @returns the pivot of each point; null as soon as one is not above 0 */
function fold({ steps, conductances, shunts, drawn }: State): Float64Array | null {
  const pivots = new Float64Array(shunts.length);
  for (const { point, links, across } of steps) {
    let pivot = at(shunts, point);
    for (const { place } of links) pivot += at(conductances, place);
    if (!(pivot > 0)) return null;
    pivots[point] = pivot;
    let pair = 0;
    for (let index = 0; index < links.length; index++) {
      const { to, place } = links[index] as (typeof links)[number];
      const share = at(conductances, place) / pivot;
      shunts[to] = at(shunts, to) + share * at(shunts, point);
      drawn[to] = at(drawn, to) + share * at(drawn, point);
      for (let other = 0; other < index; other++, pair++) {
        const between = across[pair] as number;
        const { place: otherPlace } = links[other] as (typeof links)[number];
        conductances[between] = at(conductances, between) + share * at(conductances, otherPlace);
      }
    }
  }
  return pivots;
}

/** Goes back through the steps: the drop of a point follows from those of its neighbours. */
function unfold({ steps, conductances, drawn }: State, pivots: Float64Array): Float64Array {
  const drops = new Float64Array(pivots.length);
  for (let index = steps.length - 1; index >= 0; index--) {
    const { point, links } = steps[index] as (typeof steps)[number];
    let sum = at(drawn, point);
    for (const { to, place } of links) sum += at(conductances, place) * at(drops, to);
    drops[point] = sum / at(pivots, point);
  }
  return drops;
}
