import fc from 'fast-check';
import {
  choke,
  combined,
  consumer,
  coupler,
  type DeviceSpec,
  type LineSpec,
  type PlantSpec,
  supply,
} from './plants.js';
import { repeater } from './rules.js';

const address = fc.integer({ min: 1, max: 255 });

/** Currents as documents write them, with what is wrong in practice. */
const current = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: 1, max: 60_000 }).map((ua) => String(ua / 1000)) },
  { weight: 1, arbitrary: fc.constantFrom('0', '-5', '7,5', '150') },
);

const rating = fc.constantFrom(undefined, '0', '24.999', '25', '80', '160', '320', '-640', '640', '960', '1280');

const device: fc.Arbitrary<DeviceSpec> = fc.oneof(
  { weight: 8, arbitrary: fc.tuple(address, current).map(([at, ma]) => consumer(at, ma)) },
  { weight: 3, arbitrary: address.map((at) => ({ address: at })) },
  { weight: 1, arbitrary: address.map((at) => ({ address: at, unknown: true })) },
  { weight: 1, arbitrary: address.map((at) => ({ address: at, noProduct: true })) },
  { weight: 5, arbitrary: rating.map((ma) => supply(ma)) },
  { weight: 1, arbitrary: fc.constant(choke()) },
  { weight: 1, arbitrary: fc.constant({ is: { hasIndividualAddress: false } }) },
  { weight: 1, arbitrary: fc.constant({ address: 3, is: { isAccessory: true } }) },
  { weight: 2, arbitrary: fc.tuple(current, fc.boolean()).map(([ma, ip]) => coupler(ma, 0, ip)) },
  { weight: 1, arbitrary: fc.constant({ address: 0, unknown: true }) },
  { weight: 1, arbitrary: fc.tuple(rating, fc.constantFrom(0, 64)).map(([ma, at]) => combined(ma, at)) },
  { weight: 1, arbitrary: fc.tuple(address, current).map(([at, ma]) => repeater(at, ma)) },
);

const medium = fc.oneof(
  { weight: 6, arbitrary: fc.constant('MT-0') },
  { weight: 1, arbitrary: fc.constantFrom('MT-1', 'MT-2', 'MT-5', 'MT-9') },
);

const devices = fc.array(device, { maxLength: 12 });

const segments = fc.uniqueArray(fc.record({ number: fc.integer({ min: 1, max: 4 }), medium, devices }), {
  selector: ({ number }) => number,
  minLength: 1,
  maxLength: 3,
});

function lineAt(line: string): fc.Arbitrary<LineSpec> {
  const old = fc.record({ line: fc.constant(line), medium, devices });
  const current = fc.record({ line: fc.constant(line), segments });
  const both = fc.record({ line: fc.constant(line), segments, devices: fc.array(device, { maxLength: 2 }) });
  return fc.oneof(old, current, both);
}

/** Random plants of both forms: some lines of two areas and the backbone, with anything on them. */
export const randomPlant: fc.Arbitrary<PlantSpec> = fc
  .record({
    schema: fc.constantFrom(14, 20, 21, 23, 24),
    addresses: fc.subarray(['0.0', '0.1', '1.0', '1.1', '1.2', '2.0', '2.1'], { minLength: 1 }),
    unassigned: fc.array(device, { maxLength: 2 }),
    policy: fc.record({ couplerUpperSide: fc.constantFrom('full', 'none'), targetLoad: fc.constantFrom(0.5, 0.8, 1) }),
  })
  .chain(({ addresses, ...rest }) =>
    fc.tuple(...addresses.map(lineAt)).map((lines): PlantSpec => ({ ...rest, lines }) as PlantSpec),
  );
