import { describe, expect, it } from 'vitest';
import { segmentLabel } from '../../src/plant/plant.js';
import type { Proposal } from '../../src/sizing/proposal.js';
import { proposalsOf } from '../../src/sizing/proposals.js';
import type { SplitPlan } from '../../src/sizing/split-plan.js';
import { toMa } from '../../src/units.js';
import {
  combined,
  consumer,
  consumers,
  contextOf,
  coupler,
  type DeviceSpec,
  type LineSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';

/** Devices of 10 mA on a board. */
const on = (board: string, count: number, from: number): DeviceSpec[] =>
  Array.from({ length: count }, (_, at) => consumer(from + at, 10, { places: ['House', board] }));

/** 1100 mA on two boards, where the greatest supply in stock carries 1024. */
const TOO_MUCH = [...on('A', 60, 1), ...on('B', 50, 101)];

const line = (address: string, devices: readonly DeviceSpec[]): LineSpec => ({ line: address, segments: [devices] });

const MAIN = line('1.0', [supply(320), consumer(1, 20)]);

async function allOf(plant: PlantSpec) {
  const { bySegment, newMainLines } = await proposalsOf(contextOf(plant));
  const proposals = new Map([...bySegment].map(([segment, proposal]) => [segmentLabel(segment), proposal]));
  const of = (label: string): Proposal => {
    const proposal = proposals.get(label);
    if (proposal === undefined) throw new Error(`no proposal for ${label}`);
    return proposal;
  };
  return { of, newMainLines };
}

async function proposed(lines: readonly LineSpec[], more: Partial<PlantSpec> = {}): Promise<Proposal> {
  return (await allOf({ lines, ...more })).of('1.1');
}

async function planned(lines: readonly LineSpec[], more: Partial<PlantSpec> = {}): Promise<SplitPlan> {
  const { plan, because } = await proposed(lines, more);
  if (plan === null) throw new Error(`no plan: ${because}`);
  return plan;
}

/** What a plan comes to: line, devices, mA and bought ratings of each piece. */
const told = ({ pieces }: SplitPlan) =>
  pieces.map(({ line: address, devices, loadUa, choice }) => [
    address,
    devices.length,
    toMa(loadUa),
    choice.added.map(({ ratingUa }) => toMa(ratingUa)),
  ]);

describe('a segment that no supplies carry', () => {
  it('is split by its boards, each piece with its coupler and its supply', async () => {
    const plan = await planned([MAIN, line('1.1', [coupler(8), supply(640), ...TOO_MUCH])]);
    expect(told(plan)).toEqual([
      ['1.1', 60, 608, [160]],
      ['1.2', 50, 508, [640]],
    ]);
    expect(plan).toMatchObject({ torn: 0, method: 'optimal', lowerBound: 2, gap: { segments: 0, torn: 0, evenUa: 0 } });
    expect(plan.pieces.map((piece) => piece.coupler?.lowerUa ?? null)).toEqual([null, 8000]);
  });

  it('has the line above judged again, with the new couplers', async () => {
    const main = line('1.0', [supply(160), consumer(1, 118)]); // with 8 mA of one coupler 2 mA below the target of 128
    const { of } = await allOf({ lines: [main, line('1.1', [coupler(8), supply(640), ...TOO_MUCH])] });
    expect(of('1.0')).toMatchObject({ action: 'add', loadUa: 134_000, newCouplers: { count: 1, ua: 8000 } });
    const roomy = line('1.0', [supply(160), consumer(1, 112)]);
    const { of: other } = await allOf({ lines: [roomy, line('1.1', [coupler(8), supply(640), ...TOO_MUCH])] });
    expect(other('1.0')).toMatchObject({ action: 'stays', loadUa: 128_000, newCouplers: { count: 1, ua: 8000 } });
  });

  it('proposes addresses that keep their numbers, and leaves those that stay', async () => {
    const { pieces } = await planned([MAIN, line('1.1', [coupler(8), supply(640), ...TOO_MUCH])]);
    const addresses = pieces.map(({ devices }) => devices.map(({ device, address }) => [device.address, address]));
    expect(addresses[0]?.[0]).toEqual(['1.1.1', '1.1.1']);
    expect(addresses[1]?.[0]).toEqual(['1.1.101', '1.2.101']);
    expect(addresses[1]?.at(-1)).toEqual(['1.1.150', '1.2.150']);
  });

  it('gives a number on a new line once, and further addresses along with the first', async () => {
    const twice = [
      consumer(101, 10, { places: ['House', 'B'] }),
      consumer(7, 10, { places: ['House', 'B'], additionalAddresses: [8, 101] }),
    ];
    const { pieces } = await planned([MAIN, line('1.1', [coupler(8), supply(640), ...TOO_MUCH, ...twice])]);
    const moved = pieces[1]?.devices.slice(-2);
    expect(moved).toMatchObject([{ address: null }, { address: '1.2.7', additionalAddresses: ['1.2.8'] }]);
  });

  it('takes the line addresses that are free, and each of them once', async () => {
    const heavy = (address: string) => line(address, [coupler(8), supply(640), ...TOO_MUCH]);
    const { of } = await allOf({ lines: [MAIN, heavy('1.1'), line('1.2', [coupler(8)]), heavy('1.4')] });
    const linesOf = (label: string) => of(label).plan?.pieces.map((piece) => piece.line);
    expect([linesOf('1.1'), linesOf('1.4')]).toEqual([
      ['1.1', '1.3'],
      ['1.4', '1.5'],
    ]);
    expect(of('1.0').newCouplers).toEqual({ count: 2, ua: 16_000 });
  });

  it('keeps a place free for the coupler', async () => {
    const plan = await planned([MAIN, line('1.1', [coupler(8), supply(640), ...consumers(127, 9)])]);
    expect(plan.pieces).toHaveLength(3);
    const fits = await planned([MAIN, line('1.1', [coupler(8), supply(640), ...consumers(126, 9)])]);
    expect(fits.pieces.map(({ places }) => places)).toEqual([64, 64]);
  });
});

describe('a new main line', () => {
  it('has the growth that the policy plans for it', async () => {
    const policy = { growth: [{ line: '1.0', devices: 0, reserveMa: 200 }] };
    const { newMainLines } = await allOf({ lines: [line('1.1', [supply(640), ...TOO_MUCH])], policy });
    expect(newMainLines).toMatchObject([{ loadUa: 20_000, plannedUa: 200_000 }]);
    expect(newMainLines[0]?.choice?.added.map(({ ratingUa }) => toMa(ratingUa))).toEqual([320]);
  });
});

describe('devices that could be moved', () => {
  it('find no room that couplers of new lines take', async () => {
    // 1.0 has 12 mA left of 128; a split of 1.2 puts 8 mA there.
    const lines = (other: readonly DeviceSpec[]) => [
      line('1.0', [supply(160), consumer(1, 100)]),
      line('1.1', [coupler(8), supply(160), ...consumers(13, 10)]),
      line('1.2', [coupler(8), supply(640), ...other]),
    ];
    expect((await allOf({ lines: lines(consumers(50, 10)) })).of('1.1').moves?.to.line.address).toBe('1.0');
    expect((await allOf({ lines: lines(TOO_MUCH) })).of('1.1').moves).toBeNull();
  });
});

describe('a segment with more devices than any may have', () => {
  const light = (count: number) => [MAIN, line('1.1', [supply(640), coupler(1), ...consumers(count, 1)])];

  it('is split though supplies would carry it', async () => {
    expect(await proposed(light(255))).toMatchObject({ action: 'stays', plan: null });
    const { action, because, plan } = await proposed(light(256));
    expect([action, because]).toEqual(['split', 'it has 257 devices, where a segment may have 256 at most']);
    expect(plan?.pieces.map(({ places }) => places <= 64)).toEqual([true, true, true, true, true]);
  });
});

describe('what a split needs beside new lines', () => {
  it('is a main line, and a coupler for the line that was alone', async () => {
    const { of, newMainLines } = await allOf({ lines: [line('1.1', [supply(640), ...TOO_MUCH])] });
    const { plan, conditions } = of('1.1');
    expect(plan?.pieces.map((piece) => [piece.line, piece.coupler?.lowerUa, piece.loadUa])).toEqual([
      ['1.1', 10_000, 610_000],
      ['1.2', 10_000, 510_000],
    ]);
    expect(conditions).toContain('Line 1.1 needs a coupler too, as it is no longer alone.');
    expect(newMainLines).toMatchObject([{ line: '1.0', couplers: 2, loadUa: 20_000 }]);
    expect(newMainLines[0]?.choice?.added.map(({ ratingUa }) => toMa(ratingUa))).toEqual([160]);
  });

  it('is an IP coupler where the line above is IP, which gives no power', async () => {
    const network = { line: '1.0', medium: 'MT-5', segments: [[]] };
    const { of, newMainLines } = await allOf({
      lines: [network, line('1.1', [coupler(12, 0, true), supply(640), ...TOO_MUCH])],
    });
    const { plan } = of('1.1');
    expect(plan?.above).toMatchObject({ kind: 'IP', couplers: 1, couplersUa: 0 });
    expect(plan?.pieces[1]?.coupler).toMatchObject({ isIpEnabled: true, lowerUa: 12_000, upperUa: 0 });
    expect(newMainLines).toEqual([]);
  });

  it('is room on the main line for its own new lines, where that is what is split', async () => {
    const main = line('1.0', [supply(640), ...on('A', 50, 1), ...on('B', 52, 101)]);
    const { of } = await allOf({ lines: [main, line('1.1', [coupler(8), supply(160), consumer(1, 10)])] });
    expect(of('1.0').plan?.pieces.map((piece) => [piece.line, toMa(piece.loadUa)])).toEqual([
      ['1.0', 516],
      ['1.2', 528],
    ]);
    expect(of('1.0').plan?.above).toMatchObject({ line: '1.0', kind: 'present', couplers: 1, couplersUa: 8000 });
  });
});

describe('a further segment of a line', () => {
  const lines = (own: number) => [
    {
      line: '1.1',
      segments: [
        [supply(640), consumer(1, own)],
        [supply(640), { ...coupler(6), address: 255 }, ...TOO_MUCH],
      ],
    },
  ];

  it('has the coupler that its line needs counted on the first one', async () => {
    const { of, newMainLines } = await allOf({ lines: lines(490) });
    expect(of('1.1 segment 2').plan?.beside).toMatchObject({ coupler: { lowerUa: 10_000, upperUa: 10_000 } });
    expect(of('1.1 segment 1')).toMatchObject({ action: 'stays', loadUa: 506_000, newCouplers: { count: 1 } });
    expect(newMainLines).toMatchObject([{ couplers: 2, loadUa: 20_000 }]);
    expect((await allOf({ lines: lines(497) })).of('1.1 segment 1').action).toBe('add'); // 513 of 512 mA
  });

  it('has that coupler once, where both are split', async () => {
    const both = {
      line: '1.1',
      segments: [
        [supply(640), ...consumers(110, 10)],
        [supply(640), ...TOO_MUCH],
      ],
    };
    const { of, newMainLines } = await allOf({ lines: [both] });
    expect(of('1.1 segment 1').plan?.pieces[0]?.coupler).toBeNull();
    expect(newMainLines).toMatchObject([{ couplers: 3 }]);
  });
});

describe('what stays of a segment', () => {
  it('may be more than a new line could carry, where such a supply is there', async () => {
    const policy = { stock: [{ ratingMa: 320, kinds: ['plain' as const] }] };
    // 1280 mA carry 1024; two of 320 mA 512.
    const heavy = await planned(
      [MAIN, line('1.1', [coupler(8), supply(1280), consumer(1, 600), ...consumers(60, 12)])],
      { policy },
    );
    expect(heavy.pieces.map(({ places }) => places).reduce((a, b) => a + b)).toBe(61 + heavy.pieces.length);
    expect(heavy.pieces[0]?.loadUa).toBeGreaterThan(600_000);
    const twin = [coupler(8), supply(640), supply(640), ...on('A', 63, 1), ...on('B', 47, 101)];
    const { pieces, method, gap } = await planned([MAIN, line('1.1', twin)], { policy });
    expect(pieces.map(({ devices }) => devices.length)).toEqual([63, 47]);
    expect([method, gap.segments, gap.torn]).toEqual(['heuristic', 0, 0]);
  });

  it('has no more places than a segment has', async () => {
    const policy = { devicesClassic: 20 };
    const below = Array.from({ length: 6 }, (_, at) => line(`1.${at + 1}`, [coupler(8), supply(160)]));
    const main = line('1.0', [
      supply(640),
      ...Array.from({ length: 30 }, (_, at) => consumer(at + 1, 60, { places: ['House', 'A'] })),
    ]);
    const { of } = await allOf({ lines: [main, ...below], policy });
    expect(of('1.0').plan?.pieces.every(({ places }) => places <= 20)).toBe(true);
  });

  it('has less room by what cannot be moved', async () => {
    // The combined unit is the coupler, rated 640 mA; with another of 640 mA 1024 mA are carried there.
    const plan = await planned([MAIN, line('1.1', [combined(640), ...TOO_MUCH])]);
    expect(plan.pieces[0]?.choice.kept).toEqual([]);
    expect(plan.pieces[0]?.loadUa).toBeLessThanOrEqual(plan.pieces[0]?.choice.targetUa ?? 0);
    expect(plan.pieces[1]?.coupler?.like).toBeNull();
  });

  it('has what the site sheet plans for it, and the new lines what the policy plans for them', async () => {
    const sheet = { segments: [{ segment: '1.1', planned: [{ devices: 10, current: '20 mA' }] }] };
    const policy = {
      growth: [
        { line: '1.*', devices: 1, reserveMa: 5 },
        { line: '1.2', devices: 0, reserveMa: 40 },
      ],
    };
    const plan = await planned([MAIN, line('1.1', [coupler(8), supply(640), ...TOO_MUCH])], { sheet, policy });
    expect(plan.pieces.map(({ plannedUa }) => toMa(plannedUa))).toEqual([215, 40]);
    for (const { loadUa, plannedUa, choice } of plan.pieces) {
      expect(choice.marginUa).toBe(choice.targetUa - loadUa - plannedUa);
      expect(choice.marginUa).toBeGreaterThanOrEqual(0);
    }
  });

  it('keeps what was wished of its supplies, and so do the new lines', async () => {
    const sheet = { segments: [{ segment: '1.1', monitoring: true, critical: true }] };
    const plan = await planned([MAIN, line('1.1', [coupler(8), ...TOO_MUCH])], { sheet });
    for (const { choice, loadUa } of plan.pieces) {
      expect(choice.added.map(({ kind }) => kind)).toEqual(['reporting', 'reporting']);
      expect(Math.min(...choice.added.map(({ ratingUa }) => ratingUa))).toBeGreaterThanOrEqual(loadUa);
    }
  });
});

describe('a split that is not worked out says why', () => {
  const heavy = [coupler(8), supply(640), ...TOO_MUCH];
  const fifteen = Array.from({ length: 14 }, (_, at) => line(`1.${at + 2}`, [coupler(8), supply(160)]));
  it.each<readonly [string, readonly LineSpec[], Partial<PlantSpec>, string]>([
    ['no address is free', [MAIN, line('1.1', heavy), ...fifteen], {}, 'no line address is free in area 1'],
    [
      'too few addresses are free',
      [MAIN, line('1.1', [coupler(8), ...consumers(200, 10)]), ...fifteen.slice(1)],
      {},
      'at least 3 new lines are needed, and 1 line addresses are free in area 1',
    ],
    [
      'a device draws too much',
      [MAIN, line('1.1', [coupler(8), consumer(1, 1500)])],
      {},
      'one device by itself draws more than any supplies from stock carry',
    ],
    [
      'the line above is radio',
      [{ line: '1.0', medium: 'MT-2', segments: [[]] }, line('1.1', heavy)],
      {},
      'line 1.0 is radio, on which no coupler of a twisted pair line hangs',
    ],
    [
      'the line above is missing beside other areas',
      [line('1.1', heavy), line('2.1', [coupler(8)])],
      {},
      'the export has no line 1.0, on which new lines would hang, though it has several areas',
    ],
    [
      'there are more devices than a segment may have',
      [MAIN, line('1.1', [coupler(8), ...consumers(512, 4)])],
      {},
      'it has 513 devices, where a segment may have 256 at most; how to split it is not worked out: that is done up to 512 devices',
    ],
    [
      'the supplies are shared',
      [
        MAIN,
        line('1.1', [coupler(8), { ...supply(640), name: 'Twin' }, ...TOO_MUCH]),
        line('1.2', [coupler(8), consumer(1, 10)]),
      ],
      { sheet: { segments: [{ segment: '1.2', fedBy: ['Twin'] }] } },
      'its supplies feed other lines as well; feed each line by its own first',
    ],
    [
      'too much is planned',
      [MAIN, line('1.1', heavy)],
      { policy: { growth: [{ line: '1.*', devices: 0, reserveMa: 1100 }] } },
      'is by itself more than any supplies from stock carry',
    ],
  ])('where %s', async (_, lines, more, because) => {
    const proposal = await proposed(lines, more);
    expect(proposal).toMatchObject({ action: 'split', plan: null, because: expect.stringContaining(because) });
  });
});
