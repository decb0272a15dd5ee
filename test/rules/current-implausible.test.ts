import { describe, expect, it } from 'vitest';
import type { Policy } from '../../src/policy/policy.js';
import { currentImplausible } from '../../src/rules/current-implausible.js';
import { consumer, coupler, type DeviceSpec, supply } from '../support/plants.js';
import { oldForm, only, onMedium, repeater, said, UNPOWERED } from '../support/rules.js';

describe('current-implausible', () => {
  it.each<[string, DeviceSpec]>([
    ['1 µA', consumer(1, 0.001)],
    ['exactly 100 mA', consumer(1, 100)],
    ['0 mA without an address', { ma: 0 }],
    ['nothing', { address: 1 }],
    ['a rating above 100 mA, as a supply', supply(640)],
  ])('passes a device that declares %s', (_, device) => {
    expect(said(currentImplausible, only([device]))).toEqual({
      found: [],
      coverage: { '1.1': 'passed', '*': 'passed' },
    });
  });

  it.each([
    ['0', 'zero', 'declared', 0, 'declares that it draws nothing from the bus (“0” mA)'],
    ['-0', 'zero', 'declared', 0, 'declares that it draws nothing from the bus (“-0” mA)'],
    ['0.0004', 'zero', 'declared', 0, 'declares that it draws nothing from the bus (“0.0004” mA)'],
    ['-5', 'negative', 'assumed', 10, 'declares a negative current (“-5” mA)'],
    ['10 mA', 'unreadable', 'assumed', 10, 'declares a current that is no usable number (“10 mA” mA)'],
    ['7,5', 'unreadable', 'assumed', 10, 'declares a current that is no usable number (“7,5” mA)'],
    ['100.001', 'too high', 'declared', 100.001, 'declares an unusually high current (“100.001” mA)'],
  ])('finds a declared %s', (declared, doubt, restsOn, chargedMa, words) => {
    expect(said(currentImplausible, only([consumer(1, declared, { product: 'X' })]))).toMatchObject({
      found: [
        {
          about: 'product Product X',
          severity: 'warning',
          restsOn,
          segments: ['1.1'],
          facts: { product: 'Product X', doubt, declared, chargedMa, devices: 1 },
          message: `Product X ${words}; 1 device (1 on line 1.1), charged with ${chargedMa} mA.`,
          remedy: 'Check it in the data sheet.', // no supply, so no verdict that could turn
        },
      ],
      coverage: { '1.1': 'found', '*': 'passed' },
    });
  });

  it('goes by the policy’s greatest plausible current', () => {
    const count = (ma: number) =>
      said(currentImplausible, only([consumer(1, ma)], { implausibleAboveMa: 50 })).found.length;
    expect([count(50), count(50.001)]).toEqual([0, 1]);
  });

  it.each<[string, Partial<Policy>]>([
    ['a coupler whose upper side the policy sets to 0', { couplerUpperSide: 'none' }],
    ['an assumed current, however high the policy sets it', { assumedCurrentMa: 200 }],
  ])('passes %s', (_, policy) => {
    const lines = [
      { line: '1.0', segments: [[supply(640)]] },
      { line: '1.1', segments: [[supply(640), coupler(5), { address: 1 }]] },
    ];
    expect(said(currentImplausible, { lines, policy }).found).toEqual([]);
  });

  it('gathers the devices of one product over the lines', () => {
    const device = (address: number) => consumer(address, 0, { product: 'X' });
    const lines = [
      { line: '1.1', segments: [[device(1), device(2)]] },
      { line: '1.2', segments: [[device(1)]] },
    ];
    expect(said(currentImplausible, { lines }).found).toMatchObject([
      {
        segments: ['1.1', '1.2'],
        facts: { devices: 3 },
        message: expect.stringContaining('3 devices (2 on line 1.1 and 1 on line 1.2), charged with 0 mA each'),
      },
    ]);
  });

  describe('what it would take to turn the verdict', () => {
    const zeros = [consumer(1, 0, { product: 'X' }), consumer(2, 0, { product: 'X' })];
    const turns = (knownMa: number, ...supplies: DeviceSpec[]) =>
      said(currentImplausible, only([...supplies, ...zeros, consumer(3, knownMa)])).found[0];

    it('is the average of the devices that would use up target and rating', () => {
      // (256 − 60) / 2 = 98 and (320 − 60) / 2 = 130
      expect(turns(60, supply(320))).toMatchObject({
        facts: { turns: [{ segment: '1.1', verdict: 'sufficient', toTightMa: 98, toInsufficientMa: 130 }] },
        remedy: expect.stringContaining('the target up to 98 mA each, within the rating up to 130 mA each'),
      });
    });

    it('is rounded down to whole µA', () => {
      // (128 − 60.001) / 2 = 33.9995 and (160 − 60.001) / 2 = 49.9995
      expect(turns(60.001, supply(160))?.facts.turns).toMatchObject([{ toTightMa: 33.999, toInsufficientMa: 49.999 }]);
    });

    it('is nothing at exactly the target, and none 1 µA beyond', () => {
      // 80 % of 25 mA is 20 mA; (25 − 20) / 2 = 2.5 and (25 − 20.001) / 2 = 2.4995
      expect(turns(20, supply(25))?.facts.turns).toMatchObject([{ toTightMa: 0, toInsufficientMa: 2.5 }]);
      expect(turns(20.001, supply(25))).toMatchObject({
        facts: { turns: [{ toTightMa: null, toInsufficientMa: 2.499 }] },
        remedy: expect.stringContaining('line 1.1 stays within the rating up to 2.499 mA each.'),
      });
    });

    it('leaves out what the doubted devices are charged with now', () => {
      // 256 − 60 = 196 and 320 − 60 = 260
      const devices = [supply(320), consumer(1, 110), consumer(2, 60)];
      expect(said(currentImplausible, only(devices)).found[0]?.facts.turns).toMatchObject([
        { toTightMa: 196, toInsufficientMa: 260 },
      ]);
    });

    it('is not known where the bounds are not', () => {
      const plant = oldForm([supply(320), ...zeros, repeater(64)]);
      expect(said(currentImplausible, plant).found[0]?.facts.turns).toMatchObject([
        { verdict: 'undecidable', toTightMa: null, toInsufficientMa: null },
      ]);
    });

    it('is not known beside an unrated supply', () => {
      expect(turns(10, supply(320), supply())).toMatchObject({
        facts: { turns: [{ toTightMa: null, toInsufficientMa: null }] },
        remedy: 'Check it in the data sheet.',
      });
    });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(currentImplausible, onMedium(medium, [consumer(1, 0)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}`, '*': 'passed' },
    });
  });
});
