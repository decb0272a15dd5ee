import type { Assignment } from './assignment.js';
import { at, filled, type Packing } from './bins.js';
import type { Load } from './load.js';
import type { Program, Row } from './solver.js';

/**
 * Least greatest load where no group is to be torn: each group as one item, so that there are far fewer columns; segments in order of
 * falling load.
 * @param start a packing that tears no group
 * @param greatestFrom proved of the greatest load, units
 */
export function wholeGroupsOf(load: Load, start: Packing, greatestFrom: number): Assignment {
  const bins = [...start.keys()];
  const column = (group: number, bin: number) => group * bins.length + bin;
  const terms = (bin: number, factors: readonly number[], sign = 1) =>
    factors.map((factor, group) => [column(group, bin), sign * factor] as const).filter(([, factor]) => factor !== 0);
  const units = load.groups.map((group) => group.units);
  const taken = load.groups.map((group) => group.taken);
  const once = load.groups.map(
    (_, group): Row => ({
      terms: bins.map((bin) => [column(group, bin), 1] as const),
      lower: 1,
      upper: 1,
    }),
  );
  const heaviest: Row = { terms: terms(0, units), lower: greatestFrom, upper: load.capacity };
  const falling = bins.slice(1).map(
    (bin): Row => ({
      terms: [...terms(bin - 1, units), ...terms(bin, units, -1)],
      lower: 0,
      upper: Number.POSITIVE_INFINITY,
    }),
  );
  const held = bins.map((bin): Row => ({ terms: terms(bin, taken), lower: 0, upper: load.places }));
  const columns = units.flatMap((cost) => bins.map((bin) => ({ cost: bin === 0 ? cost : 0, lower: 0, upper: 1 })));
  const program: Program = { columns, rows: [...once, heaviest, ...falling, ...held], start: startOf(load, start) };
  return {
    program,
    offset: 0,
    packingOf: (values) => packed(load, bins, (group, bin) => at(values, column(group, bin))),
  };
}

function startOf(load: Load, start: Packing): number[] {
  const { loads, ofGroup } = filled(load, start);
  const order = [...loads.keys()].sort((a, b) => at(loads, b) - at(loads, a) || a - b);
  return load.groups.flatMap((_, group) => order.map((bin) => (at(at(ofGroup, bin), group) > 0 ? 1 : 0)));
}

function packed({ kinds }: Load, bins: readonly number[], stands: (group: number, bin: number) => number): Packing {
  return bins.map((bin) => kinds.map(({ group, members }) => members.length * stands(group, bin)));
}
