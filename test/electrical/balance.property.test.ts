import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Balance } from '../../src/electrical/balance.js';
import { VERDICTS } from '../../src/electrical/verdict.js';
import { segmentLabel } from '../../src/plant/plant.js';
import { sum } from '../../src/units.js';
import {
  balanceOfSegment,
  consumer,
  contextOf,
  type DeviceSpec,
  type LineSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';
import { randomPlant } from '../support/random-specs.js';

/** Every figure of every balance, by what people call the segment. */
function figures(plant: PlantSpec): Map<string, Omit<Balance, 'segment'>> {
  return new Map(
    contextOf(plant).balances.map(({ segment, judged, ...rest }) => [
      segmentLabel(segment),
      { ...rest, judged: { ...judged, segments: [], supplies: [] } },
    ]),
  );
}

/** The same items in an order that the seed picks. */
function shuffled<T>(items: readonly T[], seed: number): T[] {
  const rest = [...items];
  const result: T[] = [];
  for (let state = seed; rest.length > 0; state = (state * 48_271 + 11) % 2_147_483_647) {
    result.push(...rest.splice(state % rest.length, 1));
  }
  return result;
}

function shuffledLine(line: LineSpec, seed: number): LineSpec {
  const numbered = line.segments?.map((segment, before) =>
    'devices' in segment
      ? { ...segment, devices: shuffled(segment.devices, seed + before) }
      : { number: before + 1, devices: shuffled(segment, seed + before) },
  );
  return {
    ...line,
    ...(numbered ? { segments: shuffled(numbered, seed) } : {}),
    ...(line.devices ? { devices: shuffled(line.devices, seed) } : {}),
  };
}

/** A plant in which one more device stands on one of its lines. */
function withOneMore(plant: PlantSpec, device: DeviceSpec, pick: number): PlantSpec {
  const at = pick % plant.lines.length;
  const add = (line: LineSpec): LineSpec => {
    const [first, ...others] = line.segments ?? [];
    if (first === undefined) return { ...line, devices: [...(line.devices ?? []), device] };
    const grown = 'devices' in first ? { ...first, devices: [...first.devices, device] } : [...first, device];
    return { ...line, segments: [grown, ...others] };
  };
  return { ...plant, lines: plant.lines.map((line, index) => (index === at ? add(line) : line)) };
}

const currentUa = fc.integer({ min: 0, max: 60_000 });
const seed = fc.integer({ min: 1, max: 2_000_000_000 });

/** Supplies that may stand together, mA. */
const admissible = fc.constantFrom<number[]>(
  [160],
  [320],
  [640],
  [960],
  [1280],
  [160, 320],
  [320, 320],
  [640, 640],
  [25, 80, 320],
);

const fedSegment = fc.record({
  ratings: admissible,
  currents: fc.array(currentUa, { minLength: 1, maxLength: 40 }),
  targetLoad: fc.integer({ min: 1, max: 100 }),
});

function balance({ ratings, currents, targetLoad }: { ratings: number[]; currents: number[]; targetLoad: number }) {
  const devices = [...ratings.map((ma) => supply(ma)), ...currents.map((ua, at) => consumer(at + 1, ua / 1000))];
  return balanceOfSegment(devices, { targetLoad: targetLoad / 100 });
}

const rank = ({ verdict }: Balance) => VERDICTS.indexOf(verdict);

describe('the balance', () => {
  it('does not depend on the order of lines, segments and devices', () => {
    fc.assert(
      fc.property(randomPlant, seed, (plant, by) => {
        const lines = shuffled(plant.lines, by).map((line, index) => shuffledLine(line, by + index));
        expect(figures({ ...plant, lines })).toEqual(figures(plant));
      }),
    );
  });

  it('adds up: the total is the sum of the items, and of declared, overridden and assumed', () => {
    fc.assert(
      fc.property(randomPlant, (plant) => {
        for (const { segment, load } of contextOf(plant).balances) {
          const { declared, overridden, assumed } = load.byOrigin;
          expect(declared + overridden + assumed).toBe(load.totalUa);
          expect(sum(segment.loads.map(({ current }) => current.ua))).toBe(load.totalUa);
          expect(segment.loads.filter(({ current }) => current.origin === 'assumed')).toHaveLength(load.assumedItems);
        }
      }),
    );
  });

  it('never falls anywhere by a further device', () => {
    fc.assert(
      fc.property(randomPlant, seed, fc.option(currentUa, { nil: undefined }), (plant, pick, ua) => {
        const device = { address: 254, ...(ua === undefined ? {} : { ma: ua / 1000 }) };
        const before = figures(plant);
        const after = figures(withOneMore(plant, device, pick));
        for (const [label, { load, placesUsed }] of before) {
          expect(after.get(label)?.load.totalUa).toBeGreaterThanOrEqual(load.totalUa);
          expect(after.get(label)?.placesUsed).toBeGreaterThanOrEqual(placesUsed);
        }
      }),
    );
  });

  it('with a known capacity never gets a better verdict by a higher current', () => {
    fc.assert(
      fc.property(fedSegment, seed, fc.integer({ min: 1, max: 500_000 }), (segment, pick, moreUa) => {
        const raised = segment.currents.map((ua, at) => (at === pick % segment.currents.length ? ua + moreUa : ua));
        const before = balance(segment);
        const after = balance({ ...segment, currents: raised });
        expect(rank(after)).toBeLessThanOrEqual(rank(before));
        expect(Number(after.headroomUa)).toBeLessThan(Number(before.headroomUa));
      }),
    );
  });

  it('draws its bounds exactly, as whole-number arithmetic does', () => {
    fc.assert(
      fc.property(fedSegment, fc.integer({ min: -2, max: 2 }), fc.boolean(), (segment, stepUa, atTarget) => {
        // A last device brings the load to within 2 µA of one of the bounds.
        const capacityUa = BigInt(sum(segment.ratings)) * 1000n;
        const per = BigInt(segment.targetLoad);
        const boundUa = Number(atTarget ? (capacityUa * per) / 100n : capacityUa);
        const lastUa = boundUa + stepUa - sum(segment.currents);
        fc.pre(lastUa >= 0);
        const { verdict, load } = balance({ ...segment, currents: [...segment.currents, lastUa] });
        const loadUa = BigInt(load.totalUa);
        const isTight = loadUa * 100n > capacityUa * per;
        expect(verdict).toBe(loadUa > capacityUa ? 'insufficient' : isTight ? 'tight' : 'sufficient');
      }),
    );
  });

  it('breaks even exactly: at the figure the verdict holds, 1 µA above it has turned', () => {
    const mixed = fc.record({ ratings: admissible, knownUa: currentUa, silent: fc.integer({ min: 1, max: 30 }) });
    fc.assert(
      fc.property(mixed, ({ ratings, knownUa, silent }) => {
        const devices = [
          ...ratings.map((ma) => supply(ma)),
          consumer(200, knownUa / 1000),
          ...Array.from({ length: silent }, (_, address) => ({ address })),
        ];
        const at = (ua: number) => rank(balanceOfSegment(devices, { assumedCurrentMa: ua / 1000 }));
        const { toTightUa, toInsufficientUa } = balanceOfSegment(devices).breakEven;
        for (const [ua, verdict] of [
          [toTightUa, 'sufficient'],
          [toInsufficientUa, 'tight'],
        ] as const) {
          if (ua === null) continue;
          expect(at(ua)).toBeGreaterThanOrEqual(VERDICTS.indexOf(verdict));
          expect(at(ua + 1)).toBeLessThan(VERDICTS.indexOf(verdict));
        }
      }),
    );
  });
});
