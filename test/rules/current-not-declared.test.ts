import { describe, expect, it } from 'vitest';
import { currentNotDeclared } from '../../src/rules/current-not-declared.js';
import { combined, consumer, coupler, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { only, onMedium, said, UNPOWERED } from '../support/rules.js';

const silent = (address: number, product?: string): DeviceSpec => ({ address, ...(product ? { product } : {}) });

describe('current-not-declared', () => {
  it.each<[string, DeviceSpec]>([
    ['a current', consumer(1, 10)],
    ['a current of 0, which is declared', consumer(1, 0)],
    ['a current that is no number, which is another rule’s', consumer(1, 'n/a')],
    ['a negative current, which is another rule’s', consumer(1, -5)],
    ['no product in the archive, which is another rule’s', { address: 1, unknown: true }],
    ['nothing, as a supply', supply()],
    ['nothing, as a passive part', { is: { hasIndividualAddress: false } }],
    ['nothing, as an accessory', { address: 1, is: { isAccessory: true } }],
  ])('passes a device with %s', (_, device) => {
    expect(said(currentNotDeclared, only([device]))).toEqual({
      found: [],
      coverage: { '1.1': 'passed', '*': 'passed' },
    });
  });

  it('finds one device, and says what is assumed', () => {
    expect(said(currentNotDeclared, only([silent(7, 'X')]))).toMatchObject({
      found: [
        {
          about: 'product Product X',
          severity: 'warning',
          restsOn: 'assumed',
          segments: ['1.1'],
          facts: {
            product: 'Product X',
            devices: 1,
            assumedMa: 10,
            isUpperSide: false,
            places: [{ segment: '1.1', devices: ['1.1.7 Product X'] }],
          },
          message: 'Product X does not declare its current; 10 mA are assumed for 1 device (1 on line 1.1).',
          remedy: 'Take the bus current of Product X from its data sheet.',
        },
      ],
      coverage: { '1.1': 'found', '*': 'passed' },
    });
  });

  it('gathers the devices of one product over all segments, and orders the products by id', () => {
    const plant: PlantSpec = {
      policy: { assumedCurrentMa: 12.5 },
      lines: [
        { line: '1.1', segments: [[silent(3, 'Y'), silent(1, 'X'), silent(2, 'X')]] },
        { line: '1.2', segments: [[silent(1, 'X')]] },
        { line: '1.3', segments: [[consumer(1, 10)]] },
      ],
    };
    expect(said(currentNotDeclared, plant)).toMatchObject({
      found: [
        {
          segments: ['1.1', '1.2'],
          facts: { devices: 3, assumedMa: 12.5 },
          message: expect.stringContaining(
            '12.5 mA are assumed for each of 3 devices (2 on line 1.1 and 1 on line 1.2)',
          ),
        },
        { about: 'product Product Y', segments: ['1.1'], facts: { devices: 1 } },
      ],
      coverage: { '1.1': 'found', '1.2': 'found', '1.3': 'passed' },
    });
  });

  it('names the order number, and where the device is', () => {
    const device = { ...silent(7, 'X'), orderNumber: 'A-1', places: ['House', 'Hall'] };
    expect(said(currentNotDeclared, only([device])).found).toMatchObject([
      {
        about: 'product Product X (A-1)',
        facts: { orderNumber: 'A-1', places: [{ devices: ['1.1.7 Product X (House / Hall)'] }] },
      },
    ]);
  });

  it('names both sides of a coupler, which is one device', () => {
    const plant: PlantSpec = {
      lines: [
        { line: '1.0', segments: [[]] },
        { line: '1.1', segments: [[coupler()]] },
      ],
    };
    expect(said(currentNotDeclared, plant).found).toMatchObject([{ segments: ['1.0', '1.1'], facts: { devices: 1 } }]);
  });

  it('finds what a combined supply and coupler draws above, although its rating is declared', () => {
    const plant: PlantSpec = {
      lines: [
        { line: '1.0', segments: [[]] },
        { line: '1.1', segments: [[combined(320)]] },
      ],
    };
    expect(said(currentNotDeclared, plant).found).toMatchObject([
      {
        segments: ['1.0'],
        facts: { isUpperSide: true, assumedMa: 10 },
        message: expect.stringContaining('not what it draws from the line above; 10 mA are assumed'),
      },
    ]);
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(currentNotDeclared, onMedium(medium, [silent(1)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}`, '*': 'passed' },
    });
  });
});
