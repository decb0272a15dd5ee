import type { Branch, Network } from './network.js';

/** What hangs together by branches, as a network of its own, and where its points and sources are in the whole. */
export interface Component {
  readonly network: Network;
  readonly points: readonly number[];
  readonly sources: readonly number[];
}

/** How branches divide points into parts. */
interface Division {
  /** The number of the part that each point belongs to. */
  readonly part: readonly number[];
  /** The points of each part. */
  readonly points: readonly (readonly number[])[];
  /** Where in its part each point is. */
  readonly placed: readonly number[];
  /** The branches of each part, between places in it. */
  readonly branches: readonly (readonly Branch[])[];
}

/** One cable is solved under many loads: what depends on its branches alone is worked out once. */
const DIVISIONS = new WeakMap<readonly Branch[], Division>();

function divisionOf(network: Network): Division {
  const known = DIVISIONS.get(network.branches);
  if (known?.part.length === network.nodes) return known;
  const division = divided(network);
  DIVISIONS.set(network.branches, division);
  return division;
}

function divided(network: Network): Division {
  const part = partOfEachPoint(network);
  const points: number[][] = Array.from(
    { length: part.reduce((most, number) => Math.max(most, number + 1), 0) },
    () => [],
  );
  const placed = part.map((number, node) => (points[number] as number[]).push(node) - 1);
  const branches: Branch[][] = points.map(() => []);
  for (const { from, to, ohm } of network.branches) {
    branches[part[from] as number]?.push({ from: placed[from] as number, to: placed[to] as number, ohm });
  }
  return { part, points, placed, branches };
}

/** The connected parts of a network, in the order of their lowest points. */
export function componentsOf(network: Network): Component[] {
  const { part, points, placed, branches } = divisionOf(network);
  const at = (node: number) => placed[node] as number;
  const of = <T>(all: readonly T[], node: (item: T) => number): T[][] => {
    const groups: T[][] = points.map(() => []);
    for (const item of all) groups[part[node(item)] as number]?.push(item);
    return groups;
  };
  const loads = of(network.loads, ({ node }) => node);
  const sources = of([...network.sources.entries()], ([, { node }]) => node);
  return points.map((own, number) => ({
    points: own,
    sources: (sources[number] ?? []).map(([index]) => index),
    network: {
      nodes: own.length,
      branches: branches[number] ?? [],
      sources: (sources[number] ?? []).map(([, source]) => ({ ...source, node: at(source.node) })),
      loads: (loads[number] ?? []).map((load) => ({ ...load, node: at(load.node) })),
    },
  }));
}

/** The number of the part that each point belongs to. */
function partOfEachPoint({ nodes, branches }: Network): number[] {
  const neighbours: number[][] = Array.from({ length: nodes }, () => []);
  for (const { from, to } of branches) {
    neighbours[from]?.push(to);
    neighbours[to]?.push(from);
  }
  const part = new Array<number>(nodes).fill(-1);
  let parts = 0;
  for (let start = 0; start < nodes; start++) {
    if (part[start] !== -1) continue;
    const waiting = [start];
    part[start] = parts;
    for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
      for (const next of neighbours[node] ?? []) {
        if (part[next] !== -1) continue;
        part[next] = parts;
        waiting.push(next);
      }
    }
    parts += 1;
  }
  return part;
}
