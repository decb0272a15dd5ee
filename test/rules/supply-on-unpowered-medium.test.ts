import { describe, expect, it } from 'vitest';
import { supplyOnUnpoweredMedium } from '../../src/rules/supply-on-unpowered-medium.js';
import { choke, combined, consumer, type PlantSpec, supply } from '../support/plants.js';
import { oldForm, only, onMedium, said } from '../support/rules.js';

describe('supply-on-unpowered-medium', () => {
  it.each<[string, PlantSpec]>([
    ['a supply on twisted pair', only([supply(640)])],
    ['a supply in the old form where no medium is stated', oldForm([supply(640)])],
    ['a supply on a medium that nobody knows', onMedium('MT-9', [supply(640)])],
    ['radio without a supply', onMedium('MT-2', [consumer(1, 10), choke()])],
  ])('passes %s', (_, plant) => {
    expect(said(supplyOnUnpoweredMedium, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it.each([
    ['MT-1', 'powerline'],
    ['MT-2', 'radio'],
    ['MT-5', 'IP'],
  ])('finds one supply on %s', (code, medium) => {
    expect(said(supplyOnUnpoweredMedium, onMedium(code, [supply(640), consumer(1, 10)]))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'warning',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', medium, supplies: ['Supply'] },
          message: `Line 1.1 is ${medium} and carries no bus power, but Supply stands on it.`,
          remedy: expect.stringContaining('twisted-pair segment'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('names every supply in one finding, combined and unrated ones too', () => {
    expect(said(supplyOnUnpoweredMedium, onMedium('MT-2', [supply(), combined(320)])).found).toMatchObject([
      { facts: { supplies: ['Supply', '1.1.0 Combined'] } },
    ]);
  });

  it('names only the segment that carries no power', () => {
    const segments = [
      { number: 1, devices: [supply(640)] },
      { number: 2, medium: 'MT-2', devices: [supply(640)] },
    ];
    expect(said(supplyOnUnpoweredMedium, { lines: [{ line: '1.1', segments }] })).toMatchObject({
      found: [{ segments: ['1.1 segment 2'] }],
      coverage: { '1.1 segment 1': 'passed', '1.1 segment 2': 'found' },
    });
  });
});
