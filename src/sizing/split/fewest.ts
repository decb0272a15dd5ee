import { at, Bins, holds, type Packing } from './bins.js';
import type { Load } from './load.js';
import type { Program, Row } from './solver.js';

/** Items of one size go from one fill of a segment to the next. */
interface Arc {
  readonly from: number;
  readonly size: number;
}

/**
 * The fewest segments as a flow: every segment is a path from fill 0 up, every arc an item, the greatest first (Valério de Carvalho,
 * Annals of Operations Research 86, 1999; from memory). Its relaxation is nearly always less than one segment below the
 * optimum, and it knows no segments to be told apart. Groups do not count here.
 */
export interface Flow {
  readonly program: Program;
  /** The packing of a solution, or null where it is none. */
  packingOf(values: readonly number[]): Packing | null;
}

/** More take the solver longer than the search may last. */
const MOST_ARCS = 20_000;

/** @returns null where places could bind (paths do not count items), or the flow would be too large to be of use */
export function flowOf(load: Load): Flow | null {
  if (placesBind(load)) return null;
  const demand = demandOf(load);
  const arcs = arcsOf(demand, load.capacity);
  if (arcs === null || arcs.length === 0) return null;
  const rows = [...conservation(arcs), ...supply(arcs, demand)];
  const columns = arcs.map(({ from, size }) => ({ cost: from === 0 ? 1 : 0, lower: 0, upper: demand.get(size) ?? 0 }));
  return { program: { columns, rows, start: null }, packingOf: (values) => packed(load, pathsOf(arcs, values)) };
}

/** Whether the smallest items could fill a segment's places before its capacity. */
function placesBind({ kinds, places, capacity, count, taken }: Load): boolean {
  if (taken <= places) return false;
  if (taken > count) return true; // some take several: not told from the smallest alone
  const sizes = kinds.flatMap(({ units, members }) => members.map(() => units)).sort((a, b) => a - b);
  return sizes.slice(0, places + 1).reduce((sum, size) => sum + size, 0) <= capacity;
}

/** Items by size, the greatest first; those of no size find room anywhere. */
function demandOf({ kinds }: Load): Map<number, number> {
  const demand = new Map<number, number>();
  for (const { units, members } of [...kinds].sort((a, b) => b.units - a.units)) {
    if (units > 0) demand.set(units, (demand.get(units) ?? 0) + members.length);
  }
  return demand;
}

function arcsOf(demand: ReadonlyMap<number, number>, capacity: number): Arc[] | null {
  const fills = new Set([0]);
  const arcs: Arc[] = [];
  for (const [size, count] of demand) {
    const tails = new Set<number>();
    for (const start of [...fills]) {
      for (let item = 0, from = start; item < count && from + size <= capacity; item++, from += size) {
        tails.add(from);
        fills.add(from + size);
      }
    }
    for (const from of tails) arcs.push({ from, size });
    if (arcs.length > MOST_ARCS) return null;
  }
  return arcs;
}

/** No more leaves a fill than comes to it; a path may end anywhere. */
function conservation(arcs: readonly Arc[]): Row[] {
  const terms = new Map<number, [number, number][]>();
  const meet = (fill: number, column: number, factor: number) => {
    const known = terms.get(fill);
    if (known === undefined) terms.set(fill, [[column, factor]]);
    else known.push([column, factor]);
  };
  for (const [column, { from, size }] of arcs.entries()) {
    if (from > 0) meet(from, column, -1);
    meet(from + size, column, 1);
  }
  return [...terms.values()].map((row) => ({ terms: row, lower: 0, upper: Number.POSITIVE_INFINITY }));
}

function supply(arcs: readonly Arc[], demand: ReadonlyMap<number, number>): Row[] {
  return [...demand].map(([size, count]) => ({
    terms: [...arcs.entries()].filter(([, arc]) => arc.size === size).map(([column]) => [column, 1] as const),
    lower: count,
    upper: count,
  }));
}

/** Sizes of the items of each path. */
function pathsOf(arcs: readonly Arc[], values: readonly number[]): number[][] {
  const left = [...values];
  const leaving = new Map<number, number[]>();
  for (const [column, { from }] of arcs.entries()) leaving.set(from, [...(leaving.get(from) ?? []), column]);
  const next = (fill: number) => leaving.get(fill)?.find((column) => at(left, column) > 0);
  const paths: number[][] = [];
  while (next(0) !== undefined) {
    const path: number[] = [];
    for (let fill = 0, column = next(0); column !== undefined; column = next(fill)) {
      left[column] = at(left, column) - 1;
      path.push(at(arcs, column).size);
      fill += at(arcs, column).size;
    }
    paths.push(path);
  }
  return paths;
}

/** Items for the sizes: of a group that stands in the segment already, where there is one. */
function packed(load: Load, paths: readonly (readonly number[])[]): Packing | null {
  const bins = new Bins(load, paths.length);
  const left = load.kinds.map(({ members }) => members.length);
  const place = (bin: number, size: number): boolean => {
    const able = [...load.kinds.entries()].filter(([kind, { units }]) => units === size && at(left, kind) > 0);
    const chosen = able.find(([, { group }]) => at(at(bins.ofGroup, bin), group) > 0) ?? able[0];
    if (chosen === undefined) return false;
    bins.put(bin, chosen[0], 1);
    left[chosen[0]] = at(left, chosen[0]) - 1;
    return true;
  };
  if (!paths.every((path, bin) => path.every((size) => place(bin, size)))) return null;
  for (const bin of paths.keys()) while (bins.places(bin) > 0 && place(bin, 0));
  return holds(load, bins.counts) ? bins.counts : null;
}
