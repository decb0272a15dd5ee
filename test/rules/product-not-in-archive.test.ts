import { describe, expect, it } from 'vitest';
import { productNotInArchive } from '../../src/rules/product-not-in-archive.js';
import { consumer, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { only, onMedium, said, UNPOWERED } from '../support/rules.js';

const unknown = (address: number, product?: string): DeviceSpec => ({
  address,
  unknown: true,
  ...(product ? { product } : {}),
});

describe('product-not-in-archive', () => {
  it.each<[string, DeviceSpec[]]>([
    ['products that the archive holds', [consumer(1, 10), { address: 2 }, supply(320)]],
    ['no device', []],
  ])('passes %s', (_, devices) => {
    expect(said(productNotInArchive, only(devices))).toEqual({
      found: [],
      coverage: { '1.1': 'passed', '*': 'passed' },
    });
  });

  it('finds one device, and says what is assumed', () => {
    expect(said(productNotInArchive, only([unknown(1, 'X')]))).toMatchObject({
      found: [
        {
          about: 'product M-F0A1_H-X-1_P-X',
          severity: 'warning',
          restsOn: 'assumed',
          segments: ['1.1'],
          facts: { productId: 'M-F0A1_H-X-1_P-X', devices: 1, assumedMa: 10, orderNumber: null },
          message:
            'The product M-F0A1_H-X-1_P-X is not in the archive for 1 device (1 on line 1.1); 10 mA are assumed.',
          remedy: expect.stringContaining('Export the project again'),
        },
      ],
      coverage: { '1.1': 'found', '*': 'passed' },
    });
  });

  it('gathers the devices of one product, and keeps products apart', () => {
    const { found } = said(productNotInArchive, only([unknown(1, 'X'), unknown(2, 'X'), unknown(3, 'Y')]));
    expect(found).toMatchObject([
      {
        facts: { devices: 2 },
        message: expect.stringContaining('2 devices (2 on line 1.1); 10 mA are assumed for each'),
      },
      { facts: { devices: 1 } },
    ]);
  });

  it('finds a device that names no product', () => {
    expect(said(productNotInArchive, only([{ address: 1, noProduct: true }])).found).toMatchObject([
      { facts: { productId: '' }, message: expect.stringMatching(/^No product is named for 1 device/) },
    ]);
  });

  it('names the line above for an unknown coupler of a radio line', () => {
    const plant: PlantSpec = {
      lines: [
        { line: '1.0', segments: [[]] },
        { line: '1.1', medium: 'MT-2', segments: [[unknown(0)]] },
      ],
    };
    expect(said(productNotInArchive, plant)).toMatchObject({
      found: [{ segments: ['1.0'] }],
      coverage: { '1.0': 'found', '1.1': 'skipped: the medium radio carries no bus power' },
    });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(productNotInArchive, onMedium(medium, [unknown(1)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}`, '*': 'passed' },
    });
  });
});
