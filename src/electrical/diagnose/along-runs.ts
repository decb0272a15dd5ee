import type { ExpectedInput } from '../expected.js';
import type { Cause, NetworkLoad, Solution } from '../network/network.js';
import { asLoad, drawsOf } from '../voltage/draw.js';
import { frameOf, networkOf, supplyNodeOf } from '../voltage/frame.js';
import { type Change, isFitted } from './change.js';
import { exactly, highestOf, lowestOf, type Range } from './range.js';
import { solveFed, solveShort } from './settle.js';
import { atLimit, beyondLimit, limitsMa, shareOf, wholeMa } from './shares.js';
import type { Target } from './target.js';

/** So many points are tried for where all that is not placed may be. */
const MOST_LUMPS = 40;

/**
 * A case along the runs of the cable. Where something is not placed, a voltage is between that with all of it at the
 * supply and that with all of it at the point in question (see `voltage/along-runs.ts` for why these are bounds).
 */
export function alongRuns(plan: ExpectedInput, change: Change): (target: Target) => Range | null {
  const { points, atSupply, lumpedAt, isPlaced } = solutionsOf(plan, change);
  if (atSupply.solution.outcome === 'unsolvable' && isFitted(change)) return () => null;
  const { hardDeviceV } = plan.policy;
  const voltage = (point: number): Range => ({
    low: voltageAt(lumpedAt(point), point, 0),
    high: voltageAt(atSupply, point, hardDeviceV),
  });
  const current = currentsOf(plan, change, atSupply.solution, isPlaced);
  const { layout } = plan.entry;
  const used = isPlaced ? points : [...new Set(layout?.pointOf.values())].slice(0, MOST_LUMPS);
  return (target) => {
    switch (target.kind) {
      case 'current':
        return current(target.supply);
      case 'voltage':
        return voltage(target.point);
      case 'lowest':
        return lowestOf(used.map(voltage));
      case 'highest':
        return highestOf(
          points.map((point) => ({
            low: voltageAt(atSupply, point, 0),
            high: voltageAt(atSupply, point, hardDeviceV),
          })),
        );
      case 'beyond limit':
        return beyondLimit(plan, current);
    }
  };
}

/** Why the plan has no working point along the runs, with what is not placed at the supply; null where it has one. */
export function whyCollapsed(plan: ExpectedInput): Cause | null {
  const { solution } = solutionsOf(plan, {}).atSupply;
  return solution.outcome === 'unsolvable' ? solution.because : null;
}

interface Solved {
  readonly solution: Solution;
  /** Node of the segment's first point. */
  readonly first: number;
}

function solutionsOf(plan: ExpectedInput, change: Change) {
  const { segment, group, policy, site } = plan;
  const frame = frameOf(group, site, policy);
  const laid = frame.laid.get(segment);
  if (laid === undefined) throw new Error('the runs or the supplies of the segment are not known');
  const { layout, first } = laid;
  const added = change.extra ?? change.short;
  const isPlaced = drawsOf(segment, layout.pointOf).every(({ point }) => point !== null) && added?.point !== null;
  const supplyNode = supplyNodeOf(frame, segment);
  const solve = (lumpAt: number): Solved => {
    const plain = networkOf(frame, segment, 'typical', () => [[lumpAt, 1]]);
    const node = added === undefined || added.point === null ? lumpAt : first + added.point;
    const network = { ...plain, loads: [...plain.loads, ...addedLoads(change, plan, node, supplyNode)] };
    const { short } = change;
    const solution = short ? solveShort(network, { node, ohm: short.ohm }, policy.hardDeviceV) : solveFed(network);
    return { solution, first };
  };
  const atSupply = solve(supplyNode);
  const lumps = new Map<number, Solved>();
  const lumpedAt = (point: number): Solved => {
    const lump = isPlaced ? atSupply : (lumps.get(point) ?? solve(first + point));
    lumps.set(point, lump);
    return lump;
  };
  return { points: [...layout.points.keys()], atSupply, lumpedAt, isPlaced };
}

function addedLoads(
  { extra, strangeUa = 0 }: Change,
  { policy }: ExpectedInput,
  node: number,
  supplyNode: number,
): NetworkLoad[] {
  return [
    ...(extra === undefined ? [] : [asLoad(node, extra.ua, policy)]),
    ...(strangeUa === 0 ? [] : [asLoad(supplyNode, strangeUa, policy)]),
  ];
}

/** Where the supplies cannot deliver, the voltage collapses: below what devices need, nobody knows how far. */
function voltageAt({ solution, first }: Solved, point: number, collapsedV: number): number {
  return solution.outcome === 'solved' ? Math.max(0, solution.voltages[first + point] ?? 0) : collapsedV;
}

function currentsOf(
  plan: ExpectedInput,
  change: Change,
  solution: Solution,
  isPlaced: boolean,
): (supply: string) => Range | null {
  const limits = limitsMa(plan);
  const isExact = isPlaced || limits.length === 1;
  return (id) => {
    const own = plan.group.supplies.findIndex(({ device }) => device.id === id);
    if (own < 0) return exactly(0);
    const limit = limits[own] ?? Number.POSITIVE_INFINITY;
    if (solution.outcome === 'unsolvable') {
      return solution.because === 'beyond the limit of the supplies' ? atLimit(limit) : { low: 0, high: limit };
    }
    return isExact ? exactly((solution.sourceAmps[own] ?? 0) * 1000) : shareOf(wholeMa(plan, change), own, limits);
  };
}
