import { type Branch, conductance } from './network.js';

/**
 * In which order the points of a connected network are folded into their neighbours, which depends on its shape alone:
 * planned once, gone through for every set of loads (`linear.ts`).
 *
 * The point with the fewest neighbours goes first, and leaves a branch between any two of them. So trees, chains and
 * rings fold up to one point in linear time: the end of a line goes into the point before it (Norton's equivalent), one
 * between two others leaves one branch (resistances in series). Only where three ways meet branches grow more. No
 * recursion, so a line may be as long as it likes.
 */
export interface Folding {
  readonly steps: readonly Step[];
  /** Conductance of each branch before the first step, S, and 0 for those that the steps make. */
  readonly conductances: Float64Array;
}

interface Step {
  readonly point: number;
  /** Its neighbours when its turn comes. */
  readonly links: readonly Link[];
  /** Places of the branches that take its place: first and second neighbour, first and third, second and third, … */
  readonly across: readonly number[];
}

interface Link {
  readonly to: number;
  /** Place of its conductance. */
  readonly place: number;
}

/** One cable is solved under many loads, and folded alike each time. */
const PLANS = new WeakMap<readonly Branch[], Folding>();

/** The plan for a network; of the same branches it is the same. */
export function foldingOf(points: number, branches: readonly Branch[]): Folding {
  const known = PLANS.get(branches);
  if (known?.steps.length === points) return known;
  const folding = planFolding(points, branches);
  PLANS.set(branches, folding);
  return folding;
}

/** Plans how to fold a network that hangs together. Parallel branches become one; what leads from a point to itself carries nothing. */
function planFolding(points: number, branches: readonly Branch[]): Folding {
  const ways = new Ways(points);
  for (const { from, to, ohm } of branches) if (from !== to) ways.join(from, to, conductance(ohm));

  const waiting = new ByNeighbours(points, (point) => ways.countOf(point));
  const steps: Step[] = [];
  for (let point = waiting.next(); point !== undefined; point = waiting.next()) {
    const links = ways.takeOut(point);
    const across = links.flatMap(({ to }, index) => links.slice(0, index).map((other) => ways.join(other.to, to, 0)));
    steps.push({ point, links, across });
    for (const { to } of links) waiting.put(to);
  }
  return { steps, conductances: Float64Array.from(ways.conductances) };
}

/** Which points are joined, and by what. */
class Ways {
  readonly conductances: number[] = [];
  readonly #ways: readonly Map<number, number>[];

  constructor(points: number) {
    this.#ways = Array.from({ length: points }, () => new Map());
  }

  /** Adds to the branch between two points, and returns its place. */
  join(from: number, to: number, conductanceS: number): number {
    const place = this.#ways[from]?.get(to) ?? this.conductances.push(0) - 1;
    this.conductances[place] = (this.conductances[place] as number) + conductanceS;
    this.#ways[from]?.set(to, place);
    this.#ways[to]?.set(from, place);
    return place;
  }

  countOf(point: number): number {
    return this.#ways[point]?.size ?? 0;
  }

  takeOut(point: number): Link[] {
    const links = [...(this.#ways[point] ?? [])].map(([to, place]) => ({ to, place }));
    for (const { to } of links) this.#ways[to]?.delete(point);
    return links;
  }
}

/** Points that wait for their turn: each once, those with the fewest neighbours first. */
class ByNeighbours {
  readonly #countOf: (point: number) => number;
  /** By how many neighbours they had when they were put here; what has changed since lies elsewhere too. */
  readonly #waiting: number[][] = [];
  readonly #gone = new Set<number>();
  #fewest = 0;

  constructor(points: number, countOf: (point: number) => number) {
    this.#countOf = countOf;
    for (let point = points - 1; point >= 0; point--) this.put(point);
  }

  put(point: number): void {
    const count = this.#countOf(point);
    while (this.#waiting.length <= count) this.#waiting.push([]);
    this.#waiting[count]?.push(point);
    this.#fewest = Math.min(this.#fewest, count);
  }

  next(): number | undefined {
    for (; this.#fewest < this.#waiting.length; this.#fewest++) {
      const alike = this.#waiting[this.#fewest] as number[];
      for (let point = alike.pop(); point !== undefined; point = alike.pop()) {
        if (this.#gone.has(point) || this.#countOf(point) !== this.#fewest) continue;
        this.#gone.add(point);
        return point;
      }
    }
    return undefined;
  }
}
