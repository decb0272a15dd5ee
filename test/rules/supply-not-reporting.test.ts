import { describe, expect, it } from 'vitest';
import { supplyNotReporting } from '../../src/rules/supply-not-reporting.js';
import { check, choke, consumer, type DeviceSpec, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { notOnSite, onSite, unwished } from '../support/site-plants.js';

/** It has an address and a program, so it takes part on the bus. */
const reporting = (ma: number, address: number): DeviceSpec => ({
  address,
  ma,
  name: 'Reporting supply',
  is: { isPowerSupply: true, hasIndividualAddress: true, hasApplicationProgram: true },
});

const wanting = (...devices: DeviceSpec[]) => onSite([...devices, consumer(1, 10)], { wantsReporting: true });

describe('supply-not-reporting', () => {
  it.each([
    ['a supply that reports', wanting(reporting(640, 2))],
    ['two supplies that both report', wanting(reporting(320, 2), reporting(320, 3))],
    ['a plain supply where no reports are wanted', onSite([supply(640), consumer(1, 10)], { wantsReporting: false })],
    ['no supply where no reports are wanted', onSite([consumer(1, 10)], { wantsReporting: false })],
  ])('passes %s', (_, plant) => {
    expect(said(supplyNotReporting, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds one of two that does not report', () => {
    const plant = wanting(reporting(320, 2), supply(320));
    expect(said(supplyNotReporting, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', reporting: 1, supplies: 2, silent: ['Supply'] },
          message:
            'Line 1.1 is to have supplies that report, but of 2 supplies only 1 does: Supply does not take part on the bus.',
          remedy: 'Replace Supply by a supply that reports, of the same rating or more.',
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(supplyNotReporting, plant).findings[0]?.measure).toEqual({
      quantity: 'reporting supplies',
      unit: 'supplies',
      value: 1,
      limit: 2,
      holds: 'at least',
    });
  });

  it('finds a segment of which no supply reports', () => {
    expect(said(supplyNotReporting, wanting(supply(640))).found).toMatchObject([
      { facts: { reporting: 0, supplies: 1 }, message: expect.stringContaining('of 1 supply none does') },
    ]);
  });

  const UNWISHED = notOnSite(
    [supply(640), consumer(1, 10)],
    { wantsReporting: true },
    unwished('whether its supplies have to report: no site sheet says so'),
  );

  it.each([
    ['no supply', wanting(), 'there is no supply'] as const,
    ['a choke fed from elsewhere', wanting(choke()), 'the supply that feeds the segment is not known'] as const,
    [
      'an entry that does not say',
      onSite([supply(640), consumer(1, 10)], {}),
      'whether its supplies have to report: the site sheet does not say',
    ] as const,
    ...UNWISHED,
  ])('skips %s', (_, plant, missing) => {
    expect(said(supplyNotReporting, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
