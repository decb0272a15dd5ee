import { describe, expect, it } from 'vitest';
import type { ProductOverride } from '../../src/policy/overrides.js';
import type { Policy } from '../../src/policy/policy.js';
import { supplyRatingUnknown } from '../../src/rules/supply-rating-unknown.js';
import {
  balanceAt,
  balanceOfSegment,
  checkSegment,
  combined,
  consumer,
  contextOf,
  coupler,
  type DeviceSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';

/** The id of the product that devices of a test plant have by `product: name`. */
const idOf = (name: string) => `M-F0A1_H-${name}-1_P-${name}`;

const saying = (says: Partial<ProductOverride>, name = 'x'): Partial<Policy> => ({
  products: [{ id: idOf(name), note: 'data sheet of 2024', ...says }],
});

const x = (spec: DeviceSpec): DeviceSpec => ({ ...spec, product: 'x' });

/** The items charged to a segment: what, and by whose word. */
const loadsOf = (label: string, plant: PlantSpec) =>
  balanceAt(label, plant).segment.loads.map(({ chargedAs, current }) => [chargedAs, current.ua, current.origin]);

const own = (devices: readonly DeviceSpec[], policy: Partial<Policy> = {}) =>
  loadsOf('1.1', { lines: [{ line: '1.1', segments: [devices] }], policy });

const only = (device: DeviceSpec, policy: Partial<Policy>) => {
  const { segment } = balanceOfSegment([device], policy);
  return { ...segment, device: segment.devices[0] };
};

describe('a current that the policy says', () => {
  it.each([
    ['declared', { ma: 5 }],
    ['not declared', {}],
    ['declared as 0', { ma: 0 }],
    ['declared as negative', { ma: -5 }],
    ['unreadable', { ma: '7,5' }],
    ['of a product that the archive does not hold', { unknown: true }],
  ])('goes before one that is %s', (_, spec) => {
    expect(own([x({ address: 1, ...spec })], saying({ currentMa: 12.5 }))).toEqual([
      ['participant', 12_500, 'overridden'],
    ]);
  });

  it('may be 0', () => {
    expect(own([x(consumer(1, 5))], saying({ currentMa: 0 }))).toEqual([['participant', 0, 'overridden']]);
  });

  it('is for every device of the product, and for no other', () => {
    const devices = [x(consumer(1, 5)), x(consumer(2, 5)), consumer(3, 5, { product: 'y' })];
    expect(own(devices, saying({ currentMa: 7 }))).toEqual([
      ['participant', 7_000, 'overridden'],
      ['participant', 7_000, 'overridden'],
      ['participant', 5_000, 'declared'],
    ]);
  });

  it('is found by order number', () => {
    const products = [{ orderNumber: 'A-*', currentMa: 7, note: 'sheet' }];
    expect(own([consumer(1, 5, { orderNumber: 'A-1' }), consumer(2, 5)], { products })).toEqual([
      ['participant', 7_000, 'overridden'],
      ['participant', 5_000, 'declared'],
    ]);
  });

  it('counts as overridden in the sum, so that the origins still add up', () => {
    const devices = [x(consumer(1, 5)), consumer(2, 6), { address: 3 }];
    expect(balanceOfSegment(devices, saying({ currentMa: 7 })).load).toMatchObject({
      totalUa: 23_000,
      byOrigin: { declared: 6_000, overridden: 7_000, assumed: 10_000 },
      assumedItems: 1,
    });
  });

  const twoLines = (below: DeviceSpec, policy: Partial<Policy>): PlantSpec => ({
    lines: [
      { line: '1.0', segments: [[supply(640)]] },
      { line: '1.1', segments: [[supply(320), below]] },
    ],
    policy,
  });

  it('is charged on both sides of a coupler', () => {
    const plant = twoLines(x(coupler(10)), saying({ currentMa: 6 }));
    expect(loadsOf('1.1', plant)).toEqual([['participant', 6_000, 'overridden']]);
    expect(loadsOf('1.0', plant)).toEqual([['coupler from below', 6_000, 'overridden']]);
  });

  it('is charged on both sides of a repeater', () => {
    const segments = [[supply(320)], [supply(320), x(coupler(10, 64)), coupler(5)]];
    const plant = { lines: [{ line: '1.1', segments }], policy: saying({ currentMa: 6 }) };
    expect(loadsOf('1.1 segment 1', plant)).toEqual([['bridge', 6_000, 'overridden']]);
    expect(loadsOf('1.1 segment 2', plant)[0]).toEqual(['participant', 6_000, 'overridden']);
  });

  it('is not charged on the upper side where the policy wants none there', () => {
    const plant = twoLines(x(coupler(10)), { ...saying({ currentMa: 6 }), couplerUpperSide: 'none' });
    expect(loadsOf('1.1', plant)).toEqual([['participant', 6_000, 'overridden']]);
    expect(loadsOf('1.0', plant)).toEqual([['coupler from below', 0, 'overridden']]);
  });

  it('is what a supply and coupler in one draws from the line above, beside its rating', () => {
    const plant = (policy: Partial<Policy>) => twoLines(x(combined(320)), policy);
    expect(loadsOf('1.0', plant({}))).toEqual([['coupler from below', 10_000, 'assumed']]);
    expect(loadsOf('1.0', plant(saying({ currentMa: 6 })))).toEqual([['coupler from below', 6_000, 'overridden']]);
    expect(loadsOf('1.0', plant(saying({ ratingMa: 640 })))).toEqual([['coupler from below', 10_000, 'assumed']]);
    const { capacity, load } = balanceAt('1.1', plant(saying({ currentMa: 6 })));
    expect([capacity.ratedUa, load.totalUa]).toEqual([640_000, 0]);
  });
});

describe('a rating that the policy says', () => {
  it.each([
    ['declared', 320],
    ['declared as too little', 24.999],
    ['not declared', undefined],
  ])('goes before one that is %s', (_, ma) => {
    const devices = [x(supply(ma)), consumer(1, 10)];
    expect(balanceOfSegment(devices, saying({ ratingMa: 640 })).capacity).toMatchObject({
      usableUa: 640_000,
      unrated: 0,
    });
  });

  it('leaves nothing to look up', () => {
    const devices = [x(supply()), consumer(1, 10)];
    expect(checkSegment(supplyRatingUnknown, devices).findings).toHaveLength(1);
    expect(checkSegment(supplyRatingUnknown, devices, saying({ ratingMa: 640 })).findings).toEqual([]);
    expect(checkSegment(supplyRatingUnknown, devices, saying({ currentMa: 640 })).findings).toHaveLength(1);
  });

  it('decides whether a supply is central', () => {
    const capacityAt = (ratingMa: number) => balanceOfSegment([x(supply(640))], saying({ ratingMa })).capacity;
    expect(capacityAt(80)).toMatchObject({ central: 0, decentral: 1 });
    expect(capacityAt(80.001)).toMatchObject({ central: 1, decentral: 0 });
  });

  it('is nothing to what draws', () => {
    expect(own([x(consumer(1, 5))], saying({ ratingMa: 640 }))).toEqual([['participant', 5_000, 'declared']]);
  });
});

describe('a kind that the policy says', () => {
  const KINDS = ['consumer', 'supply', 'coupler', 'passive'] as const;

  it.each([
    ['consumer', 'consumer', true, null],
    ['supply', 'supply', false, null],
    ['coupler', 'repeater', true, 'other segment'],
    ['passive', 'passive part', false, null],
  ] as const)('makes a %s of whatever the archive says', (kind, role, participates, joins) => {
    const flags = [
      {},
      { isPowerSupply: true },
      { isCoupler: true },
      { isPowerSupply: true, isCoupler: true },
      { isChoke: true },
      { isCable: true },
      { isAccessory: true },
      { hasIndividualAddress: false },
    ];
    for (const is of flags) {
      const { device } = only(x({ address: 1, is }), saying({ kind }));
      expect([is, device]).toMatchObject([is, { role, participates, joins }]);
    }
    const unknown = only(x({ address: 1, unknown: true }), saying({ kind })).device;
    expect(unknown).toMatchObject({ role, participates, joins, product: null, productRef: idOf('x') });
  });

  it.each(KINDS)('%s keeps what the archive says of the product', (kind) => {
    const { device } = only(x(consumer(1, 5, { orderNumber: 'A-1' })), saying({ kind }));
    expect(device?.product).toMatchObject({ id: idOf('x'), orderNumber: 'A-1', declared: '5' });
    expect(device?.override).toMatchObject({ kind });
  });

  it('consumer: charges what is declared, else the rule of thumb', () => {
    expect(own([x({ ...supply(7), address: 1 })], saying({ kind: 'consumer' }))).toEqual([
      ['participant', 7_000, 'declared'],
    ]);
    expect(own([x({ address: 1, unknown: true })], saying({ kind: 'consumer' }))).toEqual([
      ['participant', 10_000, 'assumed'],
    ]);
  });

  it('supply: feeds by the rating that is declared or said, and draws nothing', () => {
    const declared = balanceOfSegment([x(consumer(1, 320)), consumer(2, 10)], saying({ kind: 'supply' }));
    expect([declared.capacity.usableUa, declared.load.totalUa]).toEqual([320_000, 10_000]);
    const unknown = [x({ address: 1, unknown: true }), consumer(2, 10)];
    const rated = balanceOfSegment(unknown, saying({ kind: 'supply', ratingMa: 640 }));
    expect([rated.verdict, rated.capacity.usableUa, rated.load.totalUa]).toEqual(['sufficient', 640_000, 10_000]);
    expect(balanceOfSegment(unknown, saying({ kind: 'supply' })).capacity).toMatchObject({ unrated: 1 });
  });

  it('supply: is no coupler at address 0', () => {
    const device = (policy: Partial<Policy>) => only(x({ address: 0, unknown: true }), policy).device;
    expect(device({})).toMatchObject({ role: 'coupler', joins: 'line above' });
    expect(device(saying({ kind: 'supply' }))).toMatchObject({ role: 'supply', joins: null });
  });

  it('coupler: is charged on the line above as well', () => {
    const plant = (is: DeviceSpec['is']): PlantSpec => ({
      lines: [
        { line: '1.0', segments: [[supply(640)]] },
        { line: '1.1', segments: [[supply(320), x({ address: 0, ma: 8, ...(is && { is }) })]] },
      ],
      policy: saying({ kind: 'coupler' }),
    });
    expect(loadsOf('1.0', plant({}))).toEqual([['coupler from below', 8_000, 'declared']]);
    expect(loadsOf('1.1', plant({}))).toEqual([['participant', 8_000, 'declared']]);
    expect(loadsOf('1.0', plant({ isIpEnabled: true }))).toEqual([]);
  });

  it('passive: takes no part and no place, even with a current', () => {
    const { loads, devices } = only(x(consumer(1, 5)), saying({ kind: 'passive', currentMa: 5 }));
    expect([loads, devices.length]).toEqual([[], 1]);
  });
});

describe('a weight that the policy says', () => {
  it('is counted in place of the default, also where it is 0', () => {
    const weightWith = (fanInWeight: number) =>
      balanceOfSegment([x(consumer(1, 5)), consumer(2, 5)], saying({ fanInWeight })).fanIn?.weight;
    expect([weightWith(1), weightWith(0), weightWith(16)]).toEqual([5, 4, 20]); // 4 for the other one
  });

  it('leaves the current as it was', () => {
    expect(own([x(consumer(1, 5))], saying({ fanInWeight: 1 }))).toEqual([['participant', 5_000, 'declared']]);
  });
});

describe('a device that names no product', () => {
  it.each(['*', '', 'M-*'])('is changed by no entry (%j)', (id) => {
    const spec: PlantSpec = { lines: [{ line: '1.1', segments: [[{ address: 1, noProduct: true }]] }] };
    const products = [{ id, kind: 'supply' as const, currentMa: 1, note: 'n' }];
    expect(contextOf({ ...spec, policy: { products } }).balances[0]?.segment).toEqual(
      contextOf(spec).balances[0]?.segment,
    );
  });
});
