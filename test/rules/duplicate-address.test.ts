import { describe, expect, it } from 'vitest';
import { duplicateAddress } from '../../src/rules/duplicate-address.js';
import { consumer, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { oldForm, only, onMedium, said } from '../support/rules.js';

const at = (address: number, name: string, more: Partial<DeviceSpec> = {}) => consumer(address, 10, { name, ...more });

describe('duplicate-address', () => {
  it.each<[string, PlantSpec]>([
    ['different addresses', only([at(1, 'A'), at(2, 'B'), at(255, 'C')])],
    ['devices without an address', only([supply(640), supply(640)])],
    ['a device that lists its own address as additional', only([at(5, 'A', { additionalAddresses: [5] })])],
    ['an additional address that nobody else takes', only([at(1, 'A', { additionalAddresses: [2, 3] }), at(4, 'B')])],
  ])('passes %s', (_, plant) => {
    expect(said(duplicateAddress, plant)).toEqual({ found: [], coverage: { '1.1': 'passed', '*': 'passed' } });
  });

  it('passes one device number on two lines', () => {
    const lines = [
      { line: '1.1', segments: [[at(1, 'A')]] },
      { line: '1.2', segments: [[at(1, 'B')]] },
    ];
    expect(said(duplicateAddress, { lines }).found).toEqual([]);
  });

  it.each<[string, PlantSpec, string[]]>([
    ['two devices', only([at(1, 'A'), at(1, 'B'), at(2, 'C')]), ['1.1.1 A', '1.1.1 B']],
    ['three devices', only([at(1, 'A'), at(1, 'B'), at(1, 'C')]), ['1.1.1 A', '1.1.1 B', '1.1.1 C']],
    ['the old form', oldForm([at(1, 'A'), at(1, 'B')]), ['1.1.1 A', '1.1.1 B']],
    ['a medium without power', onMedium('MT-2', [at(1, 'A'), at(1, 'B')]), ['1.1.1 A', '1.1.1 B']],
    [
      'a supply that reports on the bus',
      only([at(1, 'A'), { ...supply(640), address: 1 }]),
      ['1.1.1 A', '1.1.1 Supply'],
    ],
    [
      'an additional address',
      only([at(1, 'A'), at(9, 'B', { additionalAddresses: [1] })]),
      ['1.1.1 A', '1.1.9 B (additional address)'],
    ],
  ])('finds %s on one address, once', (_, plant, takers) => {
    expect(said(duplicateAddress, plant)).toMatchObject({
      found: [
        {
          about: 'address 1.1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { address: '1.1.1', takers },
          message: `The address 1.1.1 is taken by ${takers.slice(0, -1).join(', ')} and ${takers.at(-1)}.`,
          remedy: expect.stringContaining('free ones'),
        },
      ],
      coverage: { '1.1': 'found', '*': 'passed' },
    });
  });

  it('names both segments of a line, and no third', () => {
    const plant: PlantSpec = { lines: [{ line: '1.1', segments: [[at(1, 'A')], [at(1, 'B')], [at(2, 'C')]] }] };
    expect(said(duplicateAddress, plant)).toMatchObject({
      found: [{ segments: ['1.1 segment 1', '1.1 segment 2'] }],
      coverage: { '1.1 segment 1': 'found', '1.1 segment 2': 'found', '1.1 segment 3': 'passed' },
    });
  });

  it('finds each address by itself', () => {
    const { found } = said(duplicateAddress, only([at(1, 'A'), at(1, 'B'), at(2, 'C'), at(2, 'D')]));
    expect(found.map(({ about }) => about)).toEqual(['address 1.1.1', 'address 1.1.2']);
  });

  it('lists six takers in words and counts the rest, but keeps all in the facts', () => {
    const [finding] = said(duplicateAddress, only(Array.from('ABCDEFGH', (name) => at(1, name)))).found;
    expect(finding?.facts.takers).toHaveLength(8);
    expect(finding?.message).toMatch(/1\.1\.1 F and 2 more\.$/);
  });
});
