import { describe, expect, it } from 'vitest';
import { mergedUnknowns, unknownsOf } from '../../src/report/unknowns.js';
import { consumer, contextOf, type DeviceSpec, type LineSpec, supply } from '../support/plants.js';

const unknowns = (...lines: LineSpec[]) => unknownsOf([contextOf({ lines })]);
const unrated = (more: Partial<DeviceSpec> = {}): DeviceSpec => ({ ...supply(), product: 'SUPPLY', ...more });
const silent = (address: number): DeviceSpec => ({ address, product: 'SILENT' });
const line = (number: string, ...devices: DeviceSpec[]): LineSpec => ({ line: number, segments: [devices] });

describe('a current to look up', () => {
  it('is that of a product that declares none, wherever it stands', () => {
    // 320 mA: target 256; 1.1 has 100 mA beside: (256 − 100) / 2 = 78 each; 1.2 has nothing beside: 256
    const found = unknowns(
      line('1.1', supply(320), silent(1), silent(2), consumer(3, 100)),
      line('1.2', supply(320), silent(1)),
    );
    expect(found).toMatchObject([
      { wanted: 'current', because: 'not declared', declared: null, chargedMa: 10, devices: 3, turnsAtMa: 78 },
    ]);
    expect(found[0]?.places.map(({ segment, devices }) => [segment, devices])).toEqual([
      ['1.1', 2],
      ['1.2', 1],
    ]);
  });

  it.each([
    [100, []],
    [100.001, [['too high', '100.001', 100.001]]],
    [0, [['zero', '0', 0]]],
    [-1, [['negative', '-1', 10]]],
  ])('is that of a product that declares %d, where that is doubted', (ma, expected) => {
    const found = unknowns(line('1.1', supply(640), consumer(1, ma)));
    expect(found.map(({ because, declared, chargedMa }) => [because, declared, chargedMa])).toEqual(expected);
  });

  it('is none where the medium carries no power', () => {
    expect(unknowns({ line: '1.1', medium: 'MT-2', segments: [[unrated(), silent(1)]] })).toEqual([]);
  });
});

describe('a rating to look up', () => {
  it.each([
    [undefined, 'not declared'],
    ['plenty', 'unreadable'],
    [24.999, 'below 25 mA, the smallest that counts as a rating'],
    [25, undefined],
  ])('of a supply that declares %s has the reason', (ma, because) => {
    const found = unknowns(line('1.1', { ...unrated(), ...(ma === undefined ? {} : { ma }) }, consumer(1, 10)));
    expect(found.map((one) => one.because)).toEqual(because === undefined ? [] : [because]);
  });

  it('turns at the least that carries every segment', () => {
    const found = unknowns(
      line('1.1', unrated(), consumer(1, 50), consumer(2, 40)),
      line('1.2', unrated(), consumer(1, 70)),
    );
    expect(found).toMatchObject([{ wanted: 'rating', chargedMa: null, devices: 2, turnsAtMa: 90 }]);
  });

  it('is what the other supplies of the segment leave to it', () => {
    expect(unknowns(line('1.1', unrated(), supply(40), consumer(1, 90)))).toMatchObject([{ turnsAtMa: 50 }]);
    expect(unknowns(line('1.1', unrated(), unrated(), consumer(1, 90)))).toMatchObject([{ devices: 2, turnsAtMa: 45 }]);
    expect(unknowns(line('1.1', unrated(), supply(160), consumer(1, 90)))).toMatchObject([{ turnsAtMa: null }]);
  });

  it('is open where another rating is missing as well', () => {
    const found = unknowns(line('1.1', unrated(), unrated({ product: 'OTHER' }), consumer(1, 90)));
    expect(found.map(({ turnsAtMa }) => turnsAtMa)).toEqual([null, null]);
  });
});

describe('several installations', () => {
  const small = contextOf({ lines: [line('1.1', supply(160), silent(1), consumer(2, 60))] }); // turns at 128 − 60
  const large = contextOf({ lines: [line('1.1', supply(320), silent(1), consumer(2, 60))] }); // turns at 256 − 60

  it('list a product once, with the places of all and the nearest turn', () => {
    for (const contexts of [
      [small, large],
      [large, small],
    ]) {
      const found = unknownsOf(contexts);
      expect(found).toMatchObject([{ devices: 2, turnsAtMa: 68 }]);
      expect(found[0]?.places).toHaveLength(2);
    }
  });

  it('of a rating take the greatest that is wanted', () => {
    const rated = [30, 70, 50].map((ma) => contextOf({ lines: [line('1.1', unrated(), consumer(1, ma))] }));
    expect(unknownsOf(rated)).toMatchObject([{ devices: 3, turnsAtMa: 70 }]);
  });

  it('keep apart what the archive says differently', () => {
    const [one] = unknownsOf([small]);
    if (one === undefined) throw new Error('the plant has a silent product');
    expect(mergedUnknowns([one, { ...one, declared: '0' }, { ...one, wanted: 'rating' }])).toHaveLength(3);
  });
});
