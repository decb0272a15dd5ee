import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundsOf } from '../../src/electrical/sensitivity.js';
import { balanceAt, balanceOfSegment, choke, consumer, contextOf, supply } from '../support/plants.js';
import { randomPlant } from '../support/random-specs.js';

/** Assumed items: devices that declare nothing. */
const silent = (n: number) => Array.from({ length: n }, (_, index) => ({ address: 100 + index }));

describe('the bounds of a load', () => {
  it('are the known load and each assumed item at the least and at the most', () => {
    expect(boundsOf(50_000, 4, { assumedLowMa: 3, assumedHighMa: 12 })).toEqual({ lowUa: 62_000, highUa: 98_000 });
    expect(boundsOf(0, 3, { assumedLowMa: 0.001, assumedHighMa: 2.5 })).toEqual({ lowUa: 3, highUa: 7_500 });
    expect(boundsOf(50_000, 0, { assumedLowMa: 3, assumedHighMa: 12 })).toEqual({ lowUa: 50_000, highUa: 50_000 });
  });

  it('take what is overridden for known', () => {
    const products = [{ id: '*-a', currentMa: 20, note: 'sheet' }];
    const devices = [supply(320), consumer(1, 5, { product: 'a' }), ...silent(2)];
    expect(balanceOfSegment(devices, { products }).sensitivity).toMatchObject({ lowUa: 26_000, highUa: 44_000 });
  });
});

describe('the verdict at both bounds', () => {
  const at = (knownMa: number, items: number) =>
    balanceOfSegment([supply(320), consumer(1, knownMa), ...silent(items)]).sensitivity;

  it.each([
    // 10 items: 30 to 120 mA. Target 256 mA, rating 320 mA.
    [136, 'sufficient', 'sufficient'],
    [136.001, 'sufficient', 'tight'],
    [200, 'sufficient', 'tight'],
    [200.001, 'sufficient', 'insufficient'],
    [226, 'sufficient', 'insufficient'],
    [226.001, 'tight', 'insufficient'],
    [290, 'tight', 'insufficient'],
    [290.001, 'insufficient', 'insufficient'],
  ])('beside %d mA is %s and %s', (knownMa, atLow, atHigh) => {
    expect(at(knownMa, 10)).toMatchObject({ atLow, atHigh });
  });

  it('goes by the policy’s bounds', () => {
    const devices = [supply(320), consumer(1, 200), ...silent(1)];
    const policy = { assumedLowMa: 56, assumedHighMa: 56.001, assumedCurrentMa: 56 };
    expect(balanceOfSegment(devices, policy).sensitivity).toEqual({
      lowUa: 256_000,
      highUa: 256_001,
      atLow: 'sufficient',
      atHigh: 'tight',
    });
  });

  it.each([
    ['nothing is assumed', [supply(320), consumer(1, 10)]],
    ['nothing is there', [supply(320)]],
  ])('is not given where %s', (_, devices) => {
    expect(balanceOfSegment(devices).sensitivity).toBeNull();
  });

  it('is not given where the medium carries no power', () => {
    const plant = { lines: [{ line: '1.1', medium: 'MT-5', segments: [silent(3)] }] };
    expect(balanceAt('1.1', plant).sensitivity).toBeNull();
  });

  it.each([
    ['unfed', silent(2)],
    ['undecidable', [choke(), ...silent(2)]],
  ])('is %s at both where no load would change that', (verdict, devices) => {
    expect(balanceOfSegment(devices).sensitivity).toMatchObject({ atLow: verdict, atHigh: verdict });
  });

  it('turns beside a supply without a rating where the others no longer carry the load', () => {
    // 256 mA of the 320 mA that are known carry it; above nobody knows.
    const devices = [supply(320), supply(), consumer(1, 250), ...silent(1)];
    expect(balanceOfSegment(devices).sensitivity).toMatchObject({ atLow: 'sufficient', atHigh: 'undecidable' });
  });

  it('is that of the plant if each assumed item drew so much', () => {
    const bounds = { assumedLowMa: 4, assumedHighMa: 40 };
    fc.assert(
      fc.property(randomPlant, (plant) => {
        const under = (assumedCurrentMa: number) =>
          contextOf({ ...plant, policy: { ...plant.policy, ...bounds, assumedCurrentMa } }).balances;
        const [middle, low, high] = [under(10), under(4), under(40)];
        middle.forEach(({ sensitivity }, index) => {
          if (sensitivity === null) return;
          const { lowUa, highUa, atLow, atHigh } = sensitivity;
          expect([lowUa, atLow]).toEqual([low[index]?.load.totalUa, low[index]?.verdict]);
          expect([highUa, atHigh]).toEqual([high[index]?.load.totalUa, high[index]?.verdict]);
        });
      }),
    );
  });
});
