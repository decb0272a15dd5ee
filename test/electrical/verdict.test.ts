import { describe, expect, it } from 'vitest';
import { VERDICTS, type Verdict } from '../../src/electrical/verdict.js';
import {
  balanceAt,
  balanceOfSegment,
  choke,
  consumer,
  consumers,
  type DeviceSpec,
  type PlantSpec,
  supply,
} from '../support/plants.js';
import { oldForm, onMedium, repeater } from '../support/rules.js';

const fed = (ma: number, ...ratings: (number | undefined)[]) =>
  balanceOfSegment([...ratings.map((rating) => supply(rating)), consumer(1, ma)]);

/** Design, the balance, 4 and 5. */
describe('the verdict', () => {
  it.each<[string, number, number[], Verdict]>([
    ['a load of 0', 0, [160], 'sufficient'],
    ['exactly 80 %', 128, [160], 'sufficient'],
    ['1 µA more than 80 %', 128.001, [160], 'tight'],
    ['1 µA less than the rating', 159.999, [160], 'tight'],
    ['exactly the rating', 160, [160], 'tight'],
    ['1 µA more than the rating', 160.001, [160], 'insufficient'],
    ['exactly 80 % of a sum', 768, [640, 320], 'sufficient'],
    ['1 µA more than 80 % of a sum', 768.001, [640, 320], 'tight'],
    ['exactly a sum', 960, [640, 320], 'tight'],
    ['1 µA more than a sum', 960.001, [640, 320], 'insufficient'],
    // 80 % of 25.001 mA is 20.0008 mA, between two whole µA.
    ['1 µA below a target between two', 20, [25.001], 'sufficient'],
    ['1 µA above a target between two', 20.001, [25.001], 'tight'],
  ])('for %s', (_, ma, ratings, verdict) => {
    expect(fed(ma, ...ratings).verdict).toBe(verdict);
  });

  it('adds up exactly: 2.5 + 6.5 mA is 9, and many small currents leave no tail', () => {
    // 80 % of 25 mA is 20 mA: 200 × 0.1 mA, which in floating-point milliamperes would come out above.
    expect(balanceOfSegment([consumer(1, 2.5), consumer(2, 6.5)]).load.totalUa).toBe(9_000);
    expect(balanceOfSegment([supply(25), ...consumers(200, 0.1)]).verdict).toBe('sufficient');
    expect(balanceOfSegment([supply(25), ...consumers(200, 0.1), consumer(201, 0.001)]).verdict).toBe('tight');
  });

  it.each<[number, number, Verdict]>([
    [0.29, 29, 'sufficient'], // 0.29 × 100000 is 28999.999999999996 in floating point
    [0.29, 29.001, 'tight'],
    [1, 100, 'sufficient'],
    [1, 100.001, 'insufficient'],
  ])('at a target of %d for %d mA on 100 mA', (targetLoad, ma, verdict) => {
    expect(balanceOfSegment([supply(100), consumer(1, ma)], { targetLoad }).verdict).toBe(verdict);
  });

  it.each<[string, number, (number | undefined)[], Verdict]>([
    ['within 80 % of the rated ones', 256, [320, undefined], 'sufficient'],
    ['1 µA more', 256.001, [320, undefined], 'undecidable'],
    ['more than the rated ones', 400, [320, undefined], 'undecidable'],
    ['alone', 0.001, [undefined], 'undecidable'],
    ['decentral ones counted', 64, [80, undefined], 'sufficient'],
    ['beside an inadmissible third', 10, [160, 160, undefined], 'undecidable'],
  ])('with an unrated supply: %s', (_, ma, ratings, verdict) => {
    expect(fed(ma, ...ratings)).toMatchObject({ verdict, utilisation: null, headroomUa: null, roomForDevices: null });
  });

  it.each<[string, number[]]>([
    ['three central supplies', [640, 640, 640]],
    ['short-circuit currents beyond the sum', [1280, 640]],
    ['nine decentral supplies', Array(9).fill(80)],
  ])('is undecidable with %s, however small or large the load', (_, ratings) => {
    for (const ma of [0, 10, 5000]) {
      expect(fed(ma, ...ratings)).toMatchObject({ verdict: 'undecidable', utilisation: null, headroomUa: null });
    }
  });

  it.each<[string, DeviceSpec[], Verdict]>([
    ['no supply', [consumer(1, 0)], 'unfed'],
    ['a choke without a supply', [choke(), consumer(1, 10)], 'undecidable'],
    ['a choke beside a supply', [choke(), supply(160), consumer(1, 10)], 'sufficient'],
    ['nothing to feed', [supply(160)], 'idle'],
    ['nothing at all', [], 'idle'],
    ['a choke and nothing to feed', [choke()], 'idle'],
  ])('with %s', (_, devices, verdict) => {
    expect(balanceOfSegment(devices).verdict).toBe(verdict);
  });

  it.each(['MT-1', 'MT-2', 'MT-5'])('on %s asks for no power', (medium) => {
    expect(balanceAt('1.1', onMedium(medium, [consumer(1, 10)]))).toMatchObject({
      verdict: 'not-bus-powered',
      load: { totalUa: 0 },
    });
  });

  it.each<[string, DeviceSpec[], Verdict]>([
    ['more than all ratings together', [supply(160), supply(160), consumer(1, 310.001)], 'insufficient'],
    ['exactly all ratings together', [supply(160), supply(160), consumer(1, 310)], 'undecidable'],
    ['little', [supply(640), consumer(1, 10)], 'undecidable'],
    [
      'more than all of three together, which may be right on three segments',
      [supply(160), supply(160), supply(160), consumer(1, 470.001)],
      'insufficient',
    ],
    ['no supply', [consumer(1, 10)], 'unfed'],
    ['more than the rated ones, beside an unrated one', [supply(160), supply(), consumer(1, 310)], 'undecidable'],
    ['a choke', [choke(), consumer(1, 10)], 'undecidable'],
  ])('of a line whose bounds are not known, with %s', (_, devices, verdict) => {
    expect(balanceAt('1.1', oldForm([...devices, repeater(64, 10)]))).toMatchObject({
      verdict,
      utilisation: null,
      headroomUa: null,
      roomForDevices: null,
      suggestedRatingUa: null,
      fanIn: null,
      reach: null,
      breakEven: { toTightUa: null, toInsufficientUa: null },
    });
  });

  it('ranks what is worst first', () => {
    expect(VERDICTS).toEqual([
      'insufficient',
      'unfed',
      'undecidable',
      'tight',
      'sufficient',
      'idle',
      'not-bus-powered',
    ]);
  });
});

describe('the figures beside the verdict', () => {
  it('are the share used, and the target less the load, negative beyond', () => {
    expect(fed(200, 320)).toMatchObject({ utilisation: 0.625, targetUa: 256_000, headroomUa: 56_000 });
    expect(fed(300, 320)).toMatchObject({ utilisation: 0.9375, headroomUa: -44_000 });
  });

  it('are not known without a feed or a load', () => {
    for (const devices of [[consumer(1, 10)], [choke(), consumer(1, 10)], [supply(320)]]) {
      expect(balanceOfSegment(devices)).toMatchObject({ utilisation: null, targetUa: null, headroomUa: null });
    }
  });
});

describe('the bounds of a segment', () => {
  const bounds = (plant: PlantSpec) => balanceAt('1.1', plant).segment.boundariesKnown;

  it.each<[string, number, DeviceSpec[], boolean]>([
    ['schema 14 without repeaters', 14, [consumer(1, 10)], true],
    ['schema 20 without repeaters', 20, [consumer(1, 10)], true],
    ['schema 14 with a repeater', 14, [repeater(64)], false],
    ['schema 20 with a repeater', 20, [repeater(64)], false],
    ['schema 23 that keeps devices on the line', 23, [consumer(1, 10)], true],
    ['schema 23 that keeps devices on the line, with a repeater', 23, [repeater(64)], false],
  ])('in %s: %s', (_, schema, devices, isKnown) => {
    expect(bounds({ schema, lines: [{ line: '1.1', devices }] })).toBe(isKnown);
  });

  it('are stated by the new form, repeater or not', () => {
    expect(bounds({ lines: [{ line: '1.1', segments: [[repeater(64)]] }] })).toBe(true);
  });

  it('hold devices on the line itself where it has one segment', () => {
    const plant = { lines: [{ line: '1.1', segments: [[consumer(1, 10)]], devices: [consumer(2, 5)] }] };
    expect(balanceAt('1.1', plant)).toMatchObject({ load: { totalUa: 15_000 }, segment: { boundariesKnown: true } });
  });

  it.each<[number, number]>([
    [20, 1], // the old form: an empty line is an empty segment
    [21, 0], // the new form: a line without a segment has none
  ])('of an empty line in schema %i: %i segments', (schema, segments) => {
    const plant = { schema, lines: [{ line: '1.1', devices: [] }] };
    const count = () => balanceAt('1.1', plant).segment.line.segments.length;
    if (segments === 0) expect(count).toThrow('the plant has no segment 1.1');
    else expect(count()).toBe(segments);
  });

  it('is open where the only supply is unrated, even for devices that declare 0 mA', () => {
    expect(balanceOfSegment([supply(), consumer(1, 0)]).verdict).toBe('undecidable');
  });
});
