import { at, filled, type Packing } from './bins.js';
import type { Kind, Load } from './load.js';
import type { Column, Program, Row } from './solver.js';

/** What is to be least (`any`: whether there is a packing at all), within what is known of the groups torn. */
export interface Goal {
  readonly least: 'torn' | 'greatest load' | 'any';
  /** Proved: no packing tears fewer. */
  readonly tornFrom: number;
  readonly tornTo: number;
  /** Proved of the greatest load, units. */
  readonly greatestFrom: number;
}

export interface Assignment {
  readonly program: Program;
  packingOf(values: readonly number[]): Packing;
  /** What a cost of the program means for the goal. */
  readonly offset: number;
}

const NO_LIMIT = Number.POSITIVE_INFINITY;

/**
 * So many of each kind in each segment, and whether a group stands in a segment at all, with segments in order of falling load, so
 * that no two packings differ in their numbering alone. A group of one item cannot be torn and has no columns of its own.
 * @param start a packing to begin with, of as many segments or fewer
 */
export function assignmentOf(load: Load, segments: number, goal: Goal, start: Packing | null): Assignment {
  const shape = { load, segments, spread: [...load.groups.keys()].filter((group) => at(load.groups, group).count > 1) };
  const rows = [...placed(shape), ...limits(shape, goal), ...linked(shape), ...spreading(shape, goal)];
  const values = start === null ? null : valuesOf(shape, start);
  return {
    program: { columns: columnsOf(shape, goal), rows, start: values },
    packingOf: (found) => bySegment(shape, (bin) => load.kinds.map((_, kind) => at(found, inBin(shape, kind, bin)))),
    offset: goal.least === 'torn' ? -shape.spread.length : 0,
  };
}

interface Shape {
  readonly load: Load;
  readonly segments: number;
  /** Groups of more than one item. */
  readonly spread: readonly number[];
}

function inBin({ segments }: Shape, kind: number, bin: number): number {
  return kind * segments + bin;
}

function standsIn({ load, segments }: Shape, spread: number, bin: number): number {
  return (load.kinds.length + spread) * segments + bin;
}

function bySegment<T>({ segments }: Shape, each: (bin: number) => T): T[] {
  return Array.from({ length: segments }, (_, bin) => each(bin));
}

function columnsOf(shape: Shape, { least }: Goal): Column[] {
  const { load, spread } = shape;
  const cost = (units: number, bin: number) => (least === 'greatest load' && bin === 0 ? units : 0);
  const items = load.kinds.flatMap((kind) =>
    bySegment(shape, (bin) => ({ cost: cost(kind.units, bin), lower: 0, upper: fitting(load, kind) })),
  );
  const stands = spread.flatMap(() => bySegment(shape, () => ({ cost: least === 'torn' ? 1 : 0, lower: 0, upper: 1 })));
  return [...items, ...stands];
}

function placed(shape: Shape): Row[] {
  return shape.load.kinds.map(({ members }, kind) => ({
    terms: bySegment(shape, (bin) => [inBin(shape, kind, bin), 1] as const),
    lower: members.length,
    upper: members.length,
  }));
}

function limits(shape: Shape, { greatestFrom }: Goal): Row[] {
  const { kinds, capacity, places, taken } = shape.load;
  const terms = (bin: number, factor: (kind: Kind) => number) =>
    kinds.map((kind, index) => [inBin(shape, index, bin), factor(kind)] as const).filter(([, each]) => each !== 0);
  const loads = bySegment(shape, (bin) => terms(bin, ({ units }) => units));
  const less = loads.slice(1).map((lower, bin) => {
    const higher = at(loads, bin);
    return {
      terms: [...higher, ...lower.map(([column, units]) => [column, -units] as const)],
      lower: 0,
      upper: NO_LIMIT,
    };
  });
  const held = bySegment(shape, (bin) => ({ terms: terms(bin, (kind) => kind.places), lower: 0, upper: places }));
  return [{ terms: at(loads, 0), lower: greatestFrom, upper: capacity }, ...less, ...(taken > places ? held : [])];
}

/** No item of a group where the group does not stand. */
function linked(shape: Shape): Row[] {
  const { load, spread } = shape;
  return spread.flatMap((group, index) => {
    const { kinds, units, taken } = at(load.groups, group);
    const under = (bin: number, most: number, factor: (kind: Kind) => number): Row => ({
      terms: [
        ...kinds
          .map((kind) => [inBin(shape, kind, bin), factor(at(load.kinds, kind))] as const)
          .filter(([, each]) => each !== 0),
        [standsIn(shape, index, bin), -most] as const,
      ],
      lower: -NO_LIMIT,
      upper: 0,
    });
    const each = kinds.flatMap((kind) =>
      bySegment(
        shape,
        (bin): Row => ({
          terms: [
            [inBin(shape, kind, bin), 1],
            [standsIn(shape, index, bin), -fitting(load, at(load.kinds, kind))],
          ],
          lower: -NO_LIMIT,
          upper: 0,
        }),
      ),
    );
    const byUnits =
      units > load.capacity ? bySegment(shape, (bin) => under(bin, load.capacity, (kind) => kind.units)) : [];
    const byPlaces =
      taken > load.places ? bySegment(shape, (bin) => under(bin, load.places, (kind) => kind.places)) : [];
    return [...each, ...byUnits, ...byPlaces];
  });
}

function spreading(shape: Shape, { tornFrom, tornTo }: Goal): Row[] {
  const { load, spread } = shape;
  const own = spread.map((group, index): Row => {
    const { units, taken } = at(load.groups, group);
    const least = Math.max(
      1,
      units > load.capacity ? Math.ceil(units / load.capacity) : 1,
      Math.ceil(taken / load.places),
    );
    return {
      terms: bySegment(shape, (bin) => [standsIn(shape, index, bin), 1] as const),
      lower: least,
      upper: shape.segments,
    };
  });
  const all = own.flatMap(({ terms }) => terms);
  return [...own, { terms: all, lower: spread.length + tornFrom, upper: spread.length + tornTo }];
}

/** How many of a kind one segment can take. */
function fitting({ capacity, places }: Load, { units, members, places: each }: Omit<Kind, 'group'>): number {
  return Math.min(members.length, Math.floor(places / each), units === 0 ? NO_LIMIT : Math.floor(capacity / units));
}

function valuesOf(shape: Shape, packing: Packing): number[] {
  const { load, spread, segments } = shape;
  const empty = Array.from({ length: segments - packing.length }, () => load.kinds.map(() => 0));
  const bins = filled(load, [...packing, ...empty]);
  const order = [...bins.loads.keys()].sort((a, b) => at(bins.loads, b) - at(bins.loads, a) || a - b);
  const items = load.kinds.flatMap((_, kind) => order.map((bin) => at(at(bins.counts, bin), kind)));
  const stands = spread.flatMap((group) => order.map((bin) => (at(at(bins.ofGroup, bin), group) > 0 ? 1 : 0)));
  return [...items, ...stands];
}
