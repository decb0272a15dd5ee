import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Balance } from '../../src/electrical/balance.js';
import { feedGroupsOf, MOST_SHARED_SUPPLIES, partsWith } from '../../src/electrical/feed-group.js';
import { segmentLabel } from '../../src/plant/plant.js';
import { choke, consumer, contextOf, type DeviceSpec, supply } from '../support/plants.js';

const named = (name: string, ma: number): DeviceSpec => ({ ...supply(ma), name });

/** Lines 1.1, 1.2, … with one consumer each; the supplies stand on the first. */
function plant(loadsMa: readonly number[], ratingsMa: readonly number[], fedBy: readonly (readonly number[])[]) {
  const supplies = ratingsMa.map((ma, at) => named(`S${at}`, ma));
  const lines = loadsMa.map((ma, at) => ({
    line: `1.${at + 1}`,
    segments: [[...(at === 0 ? supplies : [choke()]), consumer(1, ma)]],
  }));
  const segments = fedBy.map((feeding, at) => ({ segment: `1.${at + 1}`, fedBy: feeding.map((one) => `S${one}`) }));
  return contextOf({ lines, sheet: { segments } });
}

const verdicts = (balances: readonly Balance[]) => balances.map(({ verdict }) => verdict);

describe('segments that share supplies', () => {
  it('are judged together: what a supply gives to one it cannot give to the other', () => {
    const { balances } = plant([200, 100], [320], [[0], [0]]);
    expect(verdicts(balances)).toEqual(['tight', 'tight']); // 300 of 320
    expect(balances[1]).toMatchObject({
      load: { totalUa: 100_000 },
      judged: { load: { totalUa: 300_000 }, usableUa: 320_000 },
      utilisation: 300 / 320,
      headroomUa: 256_000 - 300_000,
      isFeedUnknown: false,
    });
    expect(balances[1]?.sharesWith.map(segmentLabel)).toEqual(['1.1']);
  });

  it.each([
    ['at the target', [156, 100], 'sufficient'],
    ['1 µA above it', [156.001, 100], 'tight'],
    ['at the rating', [220, 100], 'tight'],
    ['1 µA above it', [220.001, 100], 'insufficient'],
  ])('%s', (_, loads, verdict) => {
    expect(verdicts(plant(loads, [320], [[0], [0]]).balances)).toEqual([verdict, verdict]);
  });

  it('are undecidable behind a choke until the sheet says what feeds it', () => {
    const { balances } = contextOf({
      lines: [
        { line: '1.1', segments: [[supply(640), consumer(1, 100)]] },
        { line: '1.2', segments: [[choke(), consumer(1, 59)]] },
      ],
    });
    expect(verdicts(balances)).toEqual(['sufficient', 'undecidable']);
    expect(verdicts(plant([100, 59], [640], [[0], [0]]).balances)).toEqual(['sufficient', 'sufficient']);
  });

  it('are each judged by what is left for them where a supply is theirs alone', () => {
    // 1.1 has only S0; S1 cannot help it, however large it is.
    const { balances } = plant([300, 10], [320, 640], [[0], [0, 1]]);
    expect(verdicts(balances)).toEqual(['tight', 'sufficient']);
    expect(balances[0]?.judged).toMatchObject({ usableUa: 320_000, load: { totalUa: 300_000 } });
  });

  it('count the auxiliary load of each', () => {
    const lines = [
      { line: '1.1', segments: [[named('S', 320), consumer(1, 200)]] },
      { line: '1.2', segments: [[choke(), consumer(1, 50)]] },
    ];
    const segments = [
      { segment: '1.1', auxiliaryLoad: '30 mA' },
      { segment: '1.2', fedBy: ['S'], auxiliaryLoad: '40.001 mA' },
    ];
    expect(verdicts(contextOf({ lines, sheet: { segments } }).balances)).toEqual(['insufficient', 'insufficient']);
  });

  it('are not called fine where too many supplies are joined to tell what each can give', () => {
    const ratings = Array.from({ length: MOST_SHARED_SUPPLIES + 1 }, () => 640);
    const fedBy = ratings.map((_, at) => (at === 0 ? [0] : [at - 1, at]));
    const { balances } = plant(
      ratings.map(() => 10),
      ratings,
      fedBy,
    );
    expect(new Set(verdicts(balances))).toEqual(new Set(['undecidable']));
    expect(balances.every(({ isFeedUnknown }) => isFeedUnknown)).toBe(true);
  });
});

describe('the parts of a feed group', () => {
  const feeding = fc.array(fc.uniqueArray(fc.nat(2), { minLength: 1, maxLength: 2 }), { minLength: 1, maxLength: 5 });
  const ratings = fc.tuple(fc.nat(500), fc.nat(500), fc.nat(500)).map((all) => all.map((ma) => ma + 100));

  it('are carried exactly if supplies can be shared out among the segments (Hall’s theorem, by greatest flow)', () => {
    fc.assert(
      fc.property(
        feeding,
        ratings,
        fc.array(fc.nat(400), { minLength: 5, maxLength: 5 }),
        (fedBy, ratingsMa, loads) => {
          const loadsMa = fedBy.map((_, at) => (loads[at] ?? 0) + 1);
          const { balances } = plant(loadsMa, ratingsMa, fedBy);
          const groups = feedGroupsOf(balances.map(({ segment }) => segment));
          const isCarried = balances.every(({ segment }) => {
            const group = groups.get(segment);
            return (group ? (partsWith(segment, group) ?? []) : []).every(
              (part) =>
                sumOf(part.segments.map((one) => one.loads[0]?.current.ua ?? 0)) <=
                sumOf(part.supplies.map(({ ratingUa }) => ratingUa ?? 0)),
            );
          });
          const flow = greatestFlow(loadsMa, ratingsMa, fedBy);
          expect(isCarried).toBe(flow === sumOf(loadsMa));
        },
      ),
    );
  });
});

const sumOf = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** Ford and Fulkerson on the network source → supplies → segments → sink, whole mA. */
function greatestFlow(loads: readonly number[], ratings: readonly number[], fedBy: readonly (readonly number[])[]) {
  const sink = 1 + ratings.length + loads.length;
  const left = Array.from({ length: sink + 1 }, () => new Array<number>(sink + 1).fill(0));
  const room = (from: number, to: number) => left[from]?.[to] ?? 0;
  const add = (from: number, to: number, by: number) => {
    const row = left[from];
    if (row) row[to] = (row[to] ?? 0) + by;
  };
  ratings.forEach((ma, at) => {
    add(0, 1 + at, ma);
  });
  fedBy.forEach((supplies, at) => {
    add(1 + ratings.length + at, sink, loads[at] ?? 0);
    for (const one of supplies) add(1 + one, 1 + ratings.length + at, 1e9);
  });
  for (let flow = 0; ; ) {
    const cameFrom = new Map([[0, -1]]);
    for (const node of cameFrom.keys()) {
      for (let to = 0; to <= sink; to++) if (room(node, to) > 0 && !cameFrom.has(to)) cameFrom.set(to, node);
    }
    if (!cameFrom.has(sink)) return flow;
    const path: [number, number][] = [];
    for (let node = sink; node !== 0; node = cameFrom.get(node) ?? 0) path.push([cameFrom.get(node) ?? 0, node]);
    const by = Math.min(...path.map(([from, to]) => room(from, to)));
    for (const [from, to] of path) {
      add(from, to, -by);
      add(to, from, by);
    }
    flow += by;
  }
}
