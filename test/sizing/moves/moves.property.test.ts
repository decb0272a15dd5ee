import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentLabel } from '../../../src/plant/plant.js';
import { growthExceedsSupply } from '../../../src/rules/growth-exceeds-supply.js';
import { runRules } from '../../../src/rules/run.js';
import { consumer, contextOf, type DeviceSpec, type LineSpec, type PlantSpec, supply } from '../../support/plants.js';
import { movesIn } from './support.js';

const ROOMS = ['B / F1 / R1', 'B / F1 / R2', 'B / F2 / R3', 'B / F2 / R4', 'B / F2 / R4b', null] as const;

interface DrawnDevice {
  readonly ma: number;
  readonly room: (typeof ROOMS)[number];
}

interface DrawnLine {
  readonly ratingMa: number;
  readonly devices: readonly DrawnDevice[];
  readonly plannedDevices: number;
}

const device: fc.Arbitrary<DrawnDevice> = fc.record({
  ma: fc.oneof(
    fc.constantFrom(5, 10, 12.5, 20),
    fc.integer({ min: 1, max: 600 }).map((tenths) => tenths / 10),
  ),
  room: fc.constantFrom(...ROOMS),
});

const plannedDevices = fc.constantFrom(0, 0, 1, 2);

/** One line to leave, with at most ten devices, and several around it. */
const drawn = fc.record({
  from: fc.record({
    ratingMa: fc.constantFrom(80, 160),
    devices: fc.array(device, { minLength: 4, maxLength: 10 }),
    plannedDevices,
  }),
  others: fc.array(
    fc.record({
      ratingMa: fc.constantFrom(80, 160, 320),
      devices: fc.array(device, { minLength: 1, maxLength: 4 }),
      plannedDevices,
    }),
    { minLength: 1, maxLength: 5 },
  ),
  places: fc.constantFrom({ classic: 4, greatest: 6 }, { classic: 5, greatest: 5 }, { classic: 64, greatest: 256 }),
});

type Drawn = typeof drawn extends fc.Arbitrary<infer T> ? T : never;

const specOf = ({ ma, room }: DrawnDevice, at: number): DeviceSpec =>
  consumer(at + 1, ma, room === null ? {} : { places: room.split(' / ') });

const lineOf = ({ ratingMa, devices }: DrawnLine, line: string): LineSpec => ({
  line,
  segments: [[supply(ratingMa), ...devices.map(specOf)]],
});

/** Line 1.1 and after it 2.1, 3.1, …: each other line in an area of its own. */
function plantOf({ from, others, places: { classic, greatest } }: Drawn): PlantSpec {
  const all = [from, ...others];
  return {
    lines: all.map((one, at) => lineOf(one, `${at + 1}.1`)),
    policy: {
      devicesClassic: classic,
      devicesGreatest: greatest,
      growth: all.map((one, at) => ({ line: `${at + 1}.1`, devices: one.plannedDevices, reserveMa: 0 })),
    },
  };
}

const uaOf = (devices: readonly DrawnDevice[]) => devices.reduce((total, { ma }) => total + Math.round(ma * 1000), 0);
const roomUaOf = (line: DrawnLine) => line.ratingMa * 800 - line.plannedDevices * 10_000 - uaOf(line.devices);

const CLASSES = ['same board or room', 'same floor', 'electrically possible'];

/** 0: the same room, 1: the same floor, 2: any; every drawn room is right on a floor. */
function rankOf({ room }: DrawnDevice, to: DrawnLine): number {
  if (room === null) return 2;
  if (to.devices.some((one) => one.room === room)) return 0;
  const floor = room.slice(0, 'B / F1'.length);
  return to.devices.some((one) => one.room?.startsWith(floor)) ? 1 : 2;
}

interface Expected {
  readonly nearness: string;
  readonly to: string;
  readonly devices: readonly number[];
}

/** By hand, over all subsets and lines: nearest, fewest, most room left, first line, first devices. */
function byBruteForce({ from, others, places: { classic, greatest } }: Drawn): Expected | null {
  const needUa = -roomUaOf(from);
  if (needUa <= 0) return null;
  let best: { key: readonly number[]; expected: Expected } | null = null;
  others.forEach((to, line) => {
    const roomUa = roomUaOf(to);
    const used = to.devices.length + to.plannedDevices;
    const left = (used <= classic ? classic : greatest) - used;
    if (roomUa <= 0) return;
    for (let mask = 1; mask < 1 << from.devices.length; mask++) {
      const positions = [...from.devices.keys()].filter((at) => mask & (1 << at));
      const moved = from.devices.filter((_, at) => mask & (1 << at));
      const ua = uaOf(moved);
      if (ua < needUa || ua > roomUa || moved.length > left) continue;
      const rank = Math.max(...moved.map((one) => rankOf(one, to)));
      const key = [rank, moved.length, ua - roomUa, line, ...positions];
      if (best !== null && compared(best.key, key) <= 0) continue;
      best = { key, expected: { nearness: CLASSES[rank] ?? '', to: `${line + 2}.1`, devices: positions } };
    }
  });
  return (best as { expected: Expected } | null)?.expected ?? null;
}

function compared(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, position) => value !== b[position]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}

/** The plant with the devices on the other line, at addresses that are free there. */
function applied(plant: Drawn, { to, devices }: Expected): Drawn {
  const target = Number(to.split('.')[0]) - 2;
  const moved = plant.from.devices.filter((_, at) => devices.includes(at));
  return {
    ...plant,
    from: { ...plant.from, devices: plant.from.devices.filter((_, at) => !devices.includes(at)) },
    others: plant.others.map((line, at) => (at === target ? { ...line, devices: [...line.devices, ...moved] } : line)),
  };
}

function foundIn(plant: PlantSpec): Expected | null {
  const moves = movesIn(plant).get('1.1');
  if (moves === undefined) return null;
  expect(moves.isLeast).toBe(true);
  const devices = moves.devices.map(({ address }) => Number(address?.split('.')[2]) - 1);
  return { nearness: moves.nearness, to: segmentLabel(moves.to), devices };
}

describe('moves', () => {
  it('are the best that going through all devices and lines finds', () => {
    const kinds = new Map<string, number>();
    fc.assert(
      fc.property(drawn, (plant) => {
        const found = foundIn(plantOf(plant));
        expect(found).toEqual(byBruteForce(plant));
        const kind = found?.nearness ?? 'none';
        kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      }),
      { numRuns: 300 },
    );
    expect([...kinds.keys()].sort()).toEqual([...CLASSES, 'none'].sort());
  });

  it('that are carried out leave both segments within the target, with what is planned, and no more to move', () => {
    let moved = 0;
    fc.assert(
      fc.property(drawn, (plant) => {
        const before = plantOf(plant);
        const found = foundIn(before);
        if (found === null) return;
        moved++;
        const margins = movesIn(before).get('1.1');
        const after = plantOf(applied(plant, found));
        const context = contextOf(after);
        const at = (label: string) => context.balances.find(({ segment }) => segmentLabel(segment) === label);
        const leftUa = (label: string) => (at(label)?.headroomUa ?? 0) - (at(label)?.judged.plannedUa ?? 0);
        expect(leftUa('1.1')).toBe(margins?.leftUa);
        expect(leftUa(found.to)).toBe(margins?.marginThereUa);
        expect(at('1.1')?.verdict).toMatch(/sufficient|idle/);
        expect(at(found.to)?.verdict).toBe('sufficient');
        const { findings } = runRules([growthExceedsSupply], context);
        const lines = findings.flatMap(({ finding }) => finding.segments.map(segmentLabel));
        expect(lines.filter((line) => line === '1.1' || line === found.to)).toEqual([]);
        expect(movesIn(after).get('1.1')).toBeUndefined();
      }),
      { numRuns: 200 },
    );
    expect(moved).toBeGreaterThan(50);
  });

  it('are the same in whichever order other areas come, but for which of two alike is first', () => {
    const shuffled = drawn.chain((plant) =>
      fc.record({
        plant: fc.constant(plant),
        order: fc.shuffledSubarray([...plant.others.keys()], { minLength: plant.others.length }),
      }),
    );
    fc.assert(
      fc.property(shuffled, ({ plant, order }) => {
        const before = plantOf(plant);
        const [first, ...rest] = before.lines;
        if (first === undefined) return;
        const lines = [first, ...order.flatMap((at) => rest[at] ?? [])];
        const figures = (spec: PlantSpec) => {
          const moves = movesIn(spec).get('1.1');
          return moves && [moves.nearness, moves.devices.length, moves.marginThereUa];
        };
        expect(figures({ ...before, lines })).toEqual(figures(before));
      }),
      { numRuns: 100 },
    );
  });
});
