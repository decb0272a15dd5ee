import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CaseFigures, Voltages } from '../../../src/electrical/voltage/voltage.js';
import { consumer, contextOf, type DeviceSpec, supply } from '../../support/plants.js';

/** A segment as it is: points joined to earlier ones, perhaps one more run that closes a ring, and who sits where. */
interface Truth {
  readonly runs: readonly { readonly from: string; readonly to: string; readonly length: string }[];
  readonly supplies: readonly number[];
  readonly consumers: readonly { readonly ma: number; readonly point: number }[];
  readonly power: boolean;
}

const truth: fc.Arbitrary<Truth> = fc
  .integer({ min: 1, max: 8 })
  .chain((edges) =>
    fc.record({
      before: fc.array(fc.nat(1000), { minLength: edges, maxLength: edges }),
      lengths: fc.array(fc.integer({ min: 1, max: 100 }), { minLength: edges + 1, maxLength: edges + 1 }),
      ring: fc.option(fc.tuple(fc.nat(edges), fc.nat(edges)), { nil: null }),
      supplies: fc.array(fc.nat(edges), { minLength: 1, maxLength: 2 }),
      more: fc.array(fc.tuple(fc.integer({ min: 3, max: 40 }), fc.nat(edges)), { maxLength: 6 }),
      power: fc.boolean(),
    }),
  )
  .map(({ before, lengths, ring, supplies, more, power }) => {
    const joins = before.map((at, index) => [at % (index + 1), index + 1] as const);
    const all = ring === null || ring[0] === ring[1] ? joins : [...joins, ring];
    const runs = all.map(([from, to], at) => ({ from: `p${from}`, to: `p${to}`, length: `${lengths[at]} m` }));
    // Cable is laid to a device: every end without a supply has one.
    const ends = [...before.keys(), before.length].filter(
      (point) => all.filter((join) => join.includes(point)).length === 1 && !supplies.includes(point),
    );
    const consumers = [...ends.map((point) => ({ ma: 10, point })), ...more.map(([ma, point]) => ({ ma, point }))];
    return { runs, supplies, consumers: consumers.length > 0 ? consumers : [{ ma: 10, point: 0 }], power };
  });

const byName = (at: number) => `S${at}`;

function solved(truth: Truth, entry: object): Voltages {
  const devices: DeviceSpec[] = [
    ...truth.supplies.map((_, at) => ({ ...supply(640), name: byName(at) })),
    ...truth.consumers.map(({ ma }, at) => consumer(at + 1, ma)),
  ];
  const { balances } = contextOf({
    lines: [{ line: '1.1', segments: [devices] }],
    policy: { deviceModel: truth.power ? 'constant power' : 'constant current' },
    sheet: { segments: [{ segment: '1.1', cable: '0.6 mm pair', ...entry }] },
  });
  const found = balances[0]?.onSite?.voltages;
  if (!found) throw new Error('no voltages');
  return found;
}

const placesOf = ({ supplies, consumers }: Truth, isKnown: (consumer: number) => boolean) => [
  ...supplies.map((point, at) => ({ at: `p${point}`, devices: [byName(at)] })),
  ...consumers.flatMap(({ point }, at) => (isKnown(at) ? [{ at: `p${point}`, devices: [`1.1.${at + 1}`] }] : [])),
];

/** What rounding and micro-ohms may take, V. */
const SLACK = 1e-5;

function expectEnclosed(exact: CaseFigures, bounds: CaseFigures): void {
  const truthV = 'v' in exact.favourable ? exact.favourable.v : Number.NEGATIVE_INFINITY;
  if (bounds.unfavourable && 'v' in bounds.unfavourable) {
    expect(bounds.unfavourable.v).toBeLessThanOrEqual(truthV + SLACK);
  }
  expect('v' in bounds.favourable ? bounds.favourable.v : Number.NEGATIVE_INFINITY).toBeGreaterThanOrEqual(
    truthV - SLACK,
  );
}

function expectBothEnclosed(exact: Voltages, bounds: Voltages): void {
  expectEnclosed(exact.cases.typical, bounds.cases.typical);
  expectEnclosed(exact.cases.least, bounds.cases.least);
  // Only what is so is said.
  if (bounds.verdict !== 'undecidable') expect(bounds.verdict).toBe(exact.verdict);
}

describe('the bounds of what is half known', () => {
  it('enclose the truth where some devices are not placed', () => {
    fc.assert(
      fc.property(truth, fc.nat(255), (one, hidden) => {
        const exact = solved(one, { runs: one.runs, places: placesOf(one, () => true) });
        const places = placesOf(one, (at) => ((hidden >> (at % 8)) & 1) === 0);
        expectBothEnclosed(exact, solved(one, { runs: one.runs, places }));
      }),
      { numRuns: 300 },
    );
  });

  it('enclose the truth where only lengths are known', () => {
    fc.assert(
      fc.property(truth, fc.boolean(), fc.boolean(), (one, tellsFarthest, tellsTotal) => {
        fc.pre(tellsFarthest || tellsTotal);
        const whole = { runs: one.runs, places: placesOf(one, () => true) };
        const exact = solved(one, whole);
        const { totalM, supplyToDeviceM } = cableOf(one, whole);
        const entry = {
          ...(tellsFarthest ? { farthest: `${supplyToDeviceM} m` } : {}),
          ...(tellsTotal ? { totalLength: `${totalM} m` } : {}),
        };
        expectBothEnclosed(exact, solved(one, entry));
      }),
      { numRuns: 300 },
    );
  });

  it('enclose the truth where runs are known and no places', () => {
    fc.assert(
      fc.property(truth, (one) => {
        const exact = solved(one, { runs: one.runs, places: placesOf(one, () => true) });
        expectBothEnclosed(exact, solved(one, { runs: one.runs }));
      }),
      { numRuns: 300 },
    );
  });
});

function cableOf(truth: Truth, whole: object): { readonly totalM: number; readonly supplyToDeviceM: number } {
  const devices: DeviceSpec[] = [
    ...truth.supplies.map((_, at) => ({ ...supply(640), name: byName(at) })),
    ...truth.consumers.map(({ ma }, at) => consumer(at + 1, ma)),
  ];
  const { balances } = contextOf({
    lines: [{ line: '1.1', segments: [devices] }],
    sheet: { segments: [{ segment: '1.1', cable: '0.6 mm pair', ...whole }] },
  });
  const onSite = balances[0]?.onSite;
  if (!onSite) throw new Error('nothing on site');
  const { totalM, supplyToDeviceM } = onSite.cable;
  return { totalM: Number(totalM.mostM), supplyToDeviceM: Number(supplyToDeviceM.mostM) };
}
