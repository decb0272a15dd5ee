import { describe, expect, it } from 'vitest';
import { deviceUnplaced } from '../../src/rules/device-unplaced.js';
import { consumer, type DeviceSpec, supply } from '../support/plants.js';
import { only, said } from '../support/rules.js';

const beside = (...unassigned: DeviceSpec[]) => ({ ...only([supply(320), consumer(1, 10)]), unassigned });

describe('device-unplaced', () => {
  it('passes where every device is on a line', () => {
    expect(said(deviceUnplaced, beside())).toEqual({ found: [], coverage: { '1.1': 'passed', '*': 'passed' } });
  });

  it.each<[string, DeviceSpec, string, string | null, string]>([
    ['a declared current', { name: 'Dimmer', ma: 12, product: 'X' }, 'Product X', '12', '12 mA'],
    ['no declared current', { name: 'Dimmer', product: 'X' }, 'Product X', null, 'not declared'],
    ['an unknown product', { name: 'Dimmer', product: 'X', unknown: true }, 'M-F0A1_H-X-1_P-X', null, 'not declared'],
    ['no product', { name: 'Dimmer', noProduct: true }, 'no product', null, 'not declared'],
  ])('finds a device with %s, on the installation and on no segment', (_, device, product, declared, words) => {
    expect(said(deviceUnplaced, beside(device))).toMatchObject({
      found: [
        {
          about: 'device Dimmer',
          severity: 'note',
          restsOn: 'declared',
          segments: [],
          facts: { device: 'Dimmer', product, declared, location: null },
          message: `Dimmer (${product}) stands on no line; its current (${words}) is charged nowhere.`,
          remedy: expect.stringContaining('Place it on the line'),
        },
      ],
      coverage: { '1.1': 'passed', '*': 'found' },
    });
  });

  it('says where in the building it is', () => {
    const [finding] = said(deviceUnplaced, beside({ name: 'Dimmer', places: ['House', '', 'Hall'] })).found;
    expect(finding?.facts.location).toBe('House / Hall');
  });

  it('finds each by itself; a device number without a line is no address', () => {
    const { found } = said(deviceUnplaced, beside(consumer(1, 5, { name: 'A' }), consumer(1, 5, { name: 'B' })));
    expect(found.map(({ about }) => about)).toEqual(['device A', 'device B']);
  });
});
