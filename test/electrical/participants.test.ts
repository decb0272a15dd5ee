import { describe, expect, it } from 'vitest';
import type { Balance } from '../../src/electrical/balance.js';
import type { Device } from '../../src/plant/plant.js';
import {
  balanceAt,
  balanceOfSegment,
  choke,
  combined,
  consumer,
  contextOf,
  coupler,
  type DeviceSpec,
  supply,
} from '../support/plants.js';
import { oldForm, repeater } from '../support/rules.js';

const noAddress = { hasIndividualAddress: false } as const;

function roleOf(device: DeviceSpec): Device {
  const [built] = balanceOfSegment([device]).segment.devices;
  if (built === undefined) throw new Error('not built');
  return built;
}

/** Design, the balance, 1: everything but supplies, accessories, cables and passive parts. */
describe('a participant', () => {
  it.each<[string, DeviceSpec, string]>([
    ['a device with a current', consumer(1, 10), 'consumer'],
    ['a device without a current', { address: 1 }, 'consumer'],
    ['a device without an address', { ma: 10 }, 'consumer'],
    ['a device without any fact', {}, 'consumer'],
    ['a product whose flag of an address is unknown', { is: { hasIndividualAddress: undefined } }, 'consumer'],
    ['a product with a program but no address', { is: { ...noAddress, hasApplicationProgram: true } }, 'consumer'],
    ['a product with a current but neither address nor program', { ma: 3, is: noAddress }, 'consumer'],
    ['a product with a current of 0 but neither', { ma: 0, is: noAddress }, 'consumer'],
    ['an unknown product', { address: 1, unknown: true }, 'consumer'],
    ['no product', { address: 1, noProduct: true }, 'consumer'],
    ['a coupler at address 0', coupler(5), 'coupler'],
    ['an unknown product at address 0', { address: 0, unknown: true }, 'coupler'],
    ['a coupler elsewhere', repeater(64), 'repeater'],
    ['an IP router elsewhere, which bridges nothing', coupler(5, 64, true), 'consumer'],
    ['a choke with a current of its own', { ma: 2, is: { ...noAddress, isChoke: true } }, 'choke'],
  ])('is %s', (_, device, role) => {
    expect(roleOf(device)).toMatchObject({ role, participates: true });
    expect(balanceOfSegment([device]).segment.loads).toHaveLength(1);
  });

  it.each<[string, DeviceSpec, string]>([
    ['a supply', supply(640), 'supply'],
    ['a supply that reports on the bus', { ...supply(640), address: 9, is: { isPowerSupply: true } }, 'supply'],
    ['a combined supply and coupler', combined(640), 'supply and coupler'],
    ['an accessory', { address: 1, ma: 10, is: { isAccessory: true } }, 'accessory'],
    ['a cable', { ma: 10, is: { isCable: true } }, 'cable'],
    ['a choke', choke(), 'choke'],
    ['a part known to have neither address nor program nor current', { is: noAddress }, 'passive part'],
    ['the same with an address assigned all the same', { address: 1, is: noAddress }, 'passive part'],
  ])('is not %s', (_, device, role) => {
    expect(roleOf(device)).toMatchObject({ role, participates: false });
    expect(balanceOfSegment([device])).toMatchObject({ verdict: 'idle', placesUsed: 0, segment: { loads: [] } });
  });

  it('may be any number, and each takes a place', () => {
    expect(balanceOfSegment([consumer(1, 10), { address: 2 }, supply(640), repeater(3)]).placesUsed).toBe(3);
  });
});

/** Design, the balance, 2: declared, else the rule of thumb with its reason. */
describe('the current of a participant', () => {
  it.each<[string, DeviceSpec, object]>([
    ['as declared', consumer(1, 7.5), { ua: 7_500, origin: 'declared' }],
    ['0 as declared', consumer(1, 0), { ua: 0, origin: 'declared' }],
    ['assumed where nothing is declared', { address: 1 }, { ua: 12_500, origin: 'assumed', because: 'not declared' }],
    ['assumed where it is negative', consumer(1, -0.001), { ua: 12_500, origin: 'assumed', because: 'negative' }],
    ['assumed where it is no number', consumer(1, '10 mA'), { ua: 12_500, origin: 'assumed', because: 'unreadable' }],
    [
      'assumed where the product is missing',
      { address: 1, unknown: true },
      { ua: 12_500, origin: 'assumed', because: 'product not in the archive' },
    ],
  ])('is %s', (_, device, current) => {
    const { segment } = balanceOfSegment([device], { assumedCurrentMa: 12.5 });
    expect(segment.loads.map((load) => load.current)).toEqual([current]);
  });

  it('never makes a verdict undecidable by being assumed', () => {
    expect(balanceOfSegment([supply(160), { address: 1 }, consumer(2, 'x')])).toMatchObject({
      verdict: 'sufficient',
      load: { totalUa: 20_000, byOrigin: { declared: 0, assumed: 20_000 }, assumedItems: 2 },
    });
  });
});

describe('a device', () => {
  const built = (device: DeviceSpec) => contextOf({ lines: [], unassigned: [device] }).installation.unplaced[0];

  it.each([
    [['House', 'Ground floor', 'Hall'], 'House / Ground floor / Hall'],
    [['House', '', 'Hall'], 'House / Hall'],
    [[''], null],
    [[], null],
  ])('in the places %j is located in %s', (places, location) => {
    expect(roleOf({ places }).location).toBe(location);
  });

  it('on a line has addresses of that line, and on none has no address', () => {
    const device = { address: 5, additionalAddresses: [6, 7] };
    expect(roleOf(device)).toMatchObject({ address: '1.1.5', additionalAddresses: ['1.1.6', '1.1.7'] });
    expect(built(device)).toMatchObject({ address: null, additionalAddresses: [] });
  });
});

describe('a supply', () => {
  it.each([
    ['640', 640_000],
    ['-640', 640_000],
    ['25', 25_000],
    ['24.999', null],
    ['-24.999', null],
    ['0', null],
    ['n/a', null],
    [undefined, null],
  ])('that declares %s is rated %s µA', (ma, ratingUa) => {
    expect(balanceOfSegment([supply(ma)]).segment.supplies.map((one) => one.ratingUa)).toEqual([ratingUa]);
  });

  it.each([
    [{ hasIndividualAddress: true, hasApplicationProgram: true }, true],
    [{ hasIndividualAddress: true, hasApplicationProgram: false }, false],
    [{ hasIndividualAddress: false, hasApplicationProgram: true }, false],
    [{ hasIndividualAddress: undefined, hasApplicationProgram: true }, false],
  ])('with %o reports: %s', (flags, isReporting) => {
    const device = { ma: 640, is: { isPowerSupply: true, ...flags } };
    expect(balanceOfSegment([device]).segment.supplies).toMatchObject([{ isReporting }]);
  });
});

describe('the old form', () => {
  it('reads a line as one segment with the same participants', () => {
    const devices = [supply(640), consumer(1, 2.5), consumer(2, 6.5), coupler(5)];
    const figures = ({ segment: _, judged, ...rest }: Balance) => ({
      ...rest,
      judged: { ...judged, segments: null },
    });
    const old = figures(balanceAt('1.1', oldForm(devices)));
    const current = figures(balanceOfSegment(devices));
    expect(old.load.totalUa).toBe(14_000); // 2.5 + 6.5 + 5 mA
    expect(old).toEqual(current);
  });
});
