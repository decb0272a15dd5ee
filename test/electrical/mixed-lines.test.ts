import { describe, expect, it } from 'vitest';
import { segmentLabel } from '../../src/plant/plant.js';
import { missingSupply } from '../../src/rules/missing-supply.js';
import { segmentBoundariesUnknown } from '../../src/rules/segment-boundaries-unknown.js';
import { check, consumer, contextOf, coupler, type PlantSpec, supply } from '../support/plants.js';

const balancesOf = (plant: PlantSpec) => contextOf(plant).balances;

describe('devices on a line beside its segments', () => {
  const line = (...segments: ReturnType<typeof consumer>[][]) => ({
    lines: [{ line: '1.1', segments, devices: [consumer(9, 10)] }],
  });

  it('may be fed by any of its supplies: nothing is missing, and nothing is certain', () => {
    const plant = line([consumer(1, 10), supply(320)], [consumer(2, 10), supply(320)]);
    const [first, second, rest] = balancesOf(plant);
    expect([first, second, rest].map((balance) => balance?.verdict)).toEqual([
      'sufficient',
      'sufficient',
      'undecidable',
    ]);
    expect(rest && segmentLabel(rest.segment)).toBe('1.1 beside its segments');
    expect(check(missingSupply, plant).findings).toEqual([]);
    expect(check(segmentBoundariesUnknown, plant).findings).toHaveLength(1);
  });

  it('have no supply where the whole line has none', () => {
    const rest = balancesOf(line([consumer(1, 10)], [consumer(2, 10)])).at(-1);
    expect(rest?.verdict).toBe('unfed');
  });

  it('are on the segment where there is only one', () => {
    const [only, ...others] = balancesOf(line([consumer(1, 10), supply(320)]));
    expect(others).toEqual([]);
    expect(only?.load.totalUa).toBe(20_000);
  });
});

describe('a bridge', () => {
  const plant = (medium: string) => {
    const bridged = [consumer(1, 5), supply(160), coupler(6, 5)];
    return balancesOf({ lines: [{ line: '1.1', segments: [{ number: 0, medium, devices: [supply(160)] }, bridged] }] });
  };

  it('is charged on the first segment too', () => {
    expect(plant('MT-0').map(({ load }) => load.totalUa)).toEqual([6_000, 11_000]);
  });

  it('is not charged on a first segment that carries no power', () => {
    expect(plant('MT-2').map(({ verdict, load }) => [verdict, load.totalUa])).toEqual([
      ['not-bus-powered', 0],
      ['sufficient', 11_000],
    ]);
  });
});
