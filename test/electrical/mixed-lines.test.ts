import { describe, expect, it } from 'vitest';
import { possibleFeeds, type Segment, segmentLabel } from '../../src/plant/plant.js';
import { missingSupply } from '../../src/rules/missing-supply.js';
import { segmentBoundariesUnknown } from '../../src/rules/segment-boundaries-unknown.js';
import { countLooks } from '../support/looks.js';
import { check, consumer, consumers, contextOf, coupler, type PlantSpec, supply } from '../support/plants.js';

const balancesOf = (plant: PlantSpec) => contextOf(plant).balances;

describe('devices on a line beside its segments', () => {
  const line = (...segments: ReturnType<typeof consumer>[][]) => ({
    lines: [{ line: '1.1', segments, devices: [consumer(9, 10)] }],
  });

  it('may be fed by any of its supplies: nothing is missing, and nothing is certain', () => {
    const plant = line([consumer(1, 10), supply(320)], [consumer(2, 10), supply(320)]);
    const [first, second, rest] = balancesOf(plant);
    expect([first, second, rest].map((balance) => balance?.verdict)).toEqual([
      'undecidable',
      'undecidable',
      'undecidable',
    ]);
    expect(rest && segmentLabel(rest.segment)).toBe('1.1 beside its segments');
    expect(check(missingSupply, plant).findings).toEqual([]);
    expect(check(segmentBoundariesUnknown, plant).findings.map(({ message }) => message)).toEqual([
      expect.stringMatching(/what of that is on line 1\.1 segment 1 is not known/),
      expect.stringMatching(/what of that is on line 1\.1 segment 2 is not known/),
      expect.stringMatching(/^1 participant stands on line 1\.1 itself/),
    ]);
  });

  it('do not take a coupler from the segment with the lowest number', () => {
    // 25 × 10 mA and 10 of the coupler are 260, above 80 % of 320 = 256: without the coupler it looked sufficient
    const [first, , rest] = balancesOf({
      lines: [
        {
          line: '1.0',
          segments: [
            [supply(320), ...consumers(25, 10)],
            [supply(320), consumer(40, 10)],
          ],
          devices: [consumer(50, 10)],
        },
        { line: '1.1', segments: [[supply(160), coupler(10)]] },
      ],
    });
    expect([first?.load.totalUa, rest?.load.totalUa]).toEqual([260_000, 10_000]);
    expect(first?.verdict).toBe('undecidable');
  });

  it('leave what is certain: too much on a segment whose supplies are all its own', () => {
    const [first] = balancesOf(line([...consumers(17, 10), supply(160)], [consumer(2, 10), supply(320)]));
    expect(first?.verdict).toBe('insufficient'); // 170 mA on 160
  });

  it('leave even that open where a supply stands among them', () => {
    const [first, second] = balancesOf({
      lines: [
        { line: '1.1', segments: [[...consumers(17, 10), supply(160)], [consumer(20, 10)]], devices: [supply(320)] },
      ],
    });
    expect([first?.verdict, second?.verdict]).toEqual(['undecidable', 'undecidable']);
  });

  it('change nothing where they are no more than accessories', () => {
    const plug = { address: 9, is: { isAccessory: true } };
    const segments = [
      [consumer(1, 10), supply(320)],
      [consumer(2, 10), supply(320)],
    ];
    const verdicts = balancesOf({ lines: [{ line: '1.1', segments, devices: [plug] }] }).map(({ verdict }) => verdict);
    expect(verdicts).toEqual(['sufficient', 'sufficient', 'idle']);
  });

  it('have no supply where the whole line has none', () => {
    const rest = balancesOf(line([consumer(1, 10)], [consumer(2, 10)])).at(-1);
    expect(rest?.verdict).toBe('unfed');
  });

  it('are counted for a segment, and not gone through: a line may have very many of both', () => {
    const plant = {
      lines: [{ line: '1.1', segments: [[supply(160)], []], devices: Array.from({ length: 500 }, () => supply(160)) }],
    };
    const [first, second, rest] = balancesOf(plant).map(({ segment }) => segment) as [Segment, Segment, Segment];
    const looks = countLooks(rest.supplies);
    Object.assign(rest, { supplies: looks.counted });
    expect([first, second, rest].map(possibleFeeds)).toEqual([501, 500, 501]);
    expect(looks.count()).toBeLessThan(10);
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
