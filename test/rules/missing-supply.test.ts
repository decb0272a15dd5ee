import { describe, expect, it } from 'vitest';
import { missingSupply } from '../../src/rules/missing-supply.js';
import { choke, consumer, consumers, coupler, type PlantSpec, supply } from '../support/plants.js';
import {
  BOUNDS_MISSING,
  BOUNDS_UNKNOWN,
  oldForm,
  only,
  onMedium,
  repeater,
  said,
  UNPOWERED,
} from '../support/rules.js';

describe('missing-supply', () => {
  it.each<[string, PlantSpec]>([
    ['a supply', only([supply(320), consumer(1, 10)])],
    ['a supply without a rating', only([supply(), consumer(1, 10)])],
    ['nothing to feed', only([])],
    ['nothing but a passive part', only([{ address: 1, is: { hasIndividualAddress: false } }])],
  ])('passes a segment with %s', (_, plant) => {
    expect(said(missingSupply, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('does not judge a segment with a choke, whose supply is elsewhere', () => {
    expect(said(missingSupply, only([choke(), consumer(1, 10)]))).toEqual({
      found: [],
      coverage: { '1.1': 'skipped: the supply that feeds the segment is not known' },
    });
  });

  it('finds one device without a supply, and says what to order', () => {
    expect(said(missingSupply, only([consumer(1, 12.5)]))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', loadMa: 12.5, items: 1, couplersFromBelow: 0, suggestedRatingMa: 160 },
          message: 'Line 1.1 has no supply for 1 participant that draws 12.5 mA.',
          remedy: expect.stringContaining('a supply of 160 mA'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it.each([
    ['a device that declares 0 mA', [consumer(1, 0)], 'declared'],
    ['a device that declares nothing', [{ address: 1 }], 'assumed'],
  ])('finds %s, since it is on the bus all the same', (_, devices, restsOn) => {
    expect(said(missingSupply, only(devices)).found).toMatchObject([{ restsOn }]);
  });

  it('suggests up to the largest rating in stock, and to split beyond', () => {
    // 80 % of 1280 mA is 1024 mA: 102 devices of 10 mA are 1020 mA, one more 1030 mA.
    const suggestion = (n: number) => said(missingSupply, only(consumers(n, 10))).found[0]?.remedy;
    expect(suggestion(102)).toContain('a supply of 1280 mA');
    expect(suggestion(103)).toContain('split the segment');
  });

  it('finds a main line on which nothing stands, for the coupler that reaches it', () => {
    const plant: PlantSpec = {
      lines: [
        { line: '1.0', segments: [[]] },
        { line: '1.1', segments: [[supply(160), coupler(7)]] },
      ],
    };
    expect(said(missingSupply, plant)).toMatchObject({
      found: [
        {
          segments: ['1.0'],
          facts: { couplersFromBelow: 1, items: 1, loadMa: 7 },
          message: expect.stringContaining('1 coupler of lines below'),
        },
      ],
      coverage: { '1.0': 'found', '1.1': 'passed' },
    });
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    const { found, coverage } = said(missingSupply, onMedium(medium, [consumer(1, 10)]));
    expect({ found, coverage }).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });

  it('skips unknown bounds with a supply somewhere on the line', () => {
    expect(said(missingSupply, BOUNDS_UNKNOWN)).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${BOUNDS_MISSING}` },
    });
  });

  it('finds unknown bounds without any supply on the line', () => {
    expect(said(missingSupply, oldForm([consumer(1, 10), repeater(64)])).found).toMatchObject([
      { facts: { boundariesKnown: false, items: 2 }, remedy: expect.stringContaining('order a supply for each') },
    ]);
  });

  it('rests on the policy where the policy sets the upper side of every coupler to nothing', () => {
    const lines = [
      { line: '1.0', segments: [[]] },
      { line: '1.1', segments: [[supply(160), coupler(5)]] },
    ];
    const { found } = said(missingSupply, { lines, policy: { couplerUpperSide: 'none' } });
    expect(found).toMatchObject([{ about: 'segment 1.0', restsOn: 'overridden', facts: { loadMa: 0 } }]);
  });

  it('says that a product which the archive does not hold may be the supply', () => {
    const [finding] = said(missingSupply, only([consumer(1, 10), { address: 2, unknown: true }])).found;
    expect(finding?.message).toMatch(
      /1 device here is of a product that the archive does not hold, and may be the supply\.$/,
    );
    expect(finding?.remedy).toMatch(/^Export the project again with its product data first\./);
  });
});
