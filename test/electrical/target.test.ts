import { describe, expect, it } from 'vitest';
import { isOversized, suggestedRating, targetOf } from '../../src/electrical/target.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import type { Policy } from '../../src/policy/policy.js';
import { balanceOfSegment, consumer, supply } from '../support/plants.js';

const policy = (more: Partial<Policy> = {}): Policy => ({ ...COMMON_PRACTICE, ...more });

describe('the target', () => {
  it.each([
    [320_000, 0.8, 256_000],
    [25_001, 0.8, 20_000], // 20000.8
    [25_004, 0.8, 20_003], // 20003.2
    [100_000, 0.29, 29_000], // 0.29 × 100000 is 28999.999999999996 in floating point
    [1, 0.8, 0],
    [0, 0.8, 0],
    [640_001, 1, 640_001],
    [1_000_000_000, 0.999999, 999_999_000],
  ])('of %i µA at %d is %i µA, rounded down', (capacityUa, targetLoad, targetUa) => {
    expect(targetOf(capacityUa, policy({ targetLoad }))).toBe(targetUa);
  });
});

/** Design, the balance, 8: the smallest rating in stock with load ≤ target × rating. */
describe('the suggested rating', () => {
  it.each([
    [0, 160],
    [128, 160],
    [128.001, 320],
    [256, 320],
    [256.001, 640],
    [512, 640],
    [512.001, 1280],
    [1024, 1280],
    [1024.001, null],
  ])('for %d mA is %s mA', (loadMa, ratingMa) => {
    expect(suggestedRating(Math.round(loadMa * 1000), policy())).toBe(ratingMa === null ? null : ratingMa * 1000);
    expect(balanceOfSegment([consumer(1, loadMa)]).suggestedRatingUa).toBe(ratingMa === null ? null : ratingMa * 1000);
  });

  it.each([
    ['the target', { targetLoad: 1 }, 129, 160],
    ['the stock', { stock: stock([640, 960]) }, 129, 640],
    ['a stock in any order', { stock: stock([1280, 640, 160, 320]) }, 129, 320],
  ])('goes by the policy: %s', (_, more, loadMa, ratingMa) => {
    expect(suggestedRating(loadMa * 1000, policy(more))).toBe(ratingMa * 1000);
  });

  it('needs a load', () => {
    expect(balanceOfSegment([supply(640)]).suggestedRatingUa).toBeNull();
  });
});

const stock = (ratingsMa: number[]): Policy['stock'] => ratingsMa.map((ratingMa) => ({ ratingMa, kinds: ['plain'] }));

describe('an oversized supply', () => {
  it.each([
    [320, 160, false],
    [639.999, 160, false],
    [640, 160, true],
    [1280, 160, true],
    [1279.999, 320, false],
    [1280, 320, true],
    [1280, 640, false],
    [5000, 1280, false], // the stock ends
  ])('%d mA where %d mA would do: %s', (ratingMa, suggestedMa, expected) => {
    expect(isOversized(Math.round(ratingMa * 1000), suggestedMa * 1000, policy())).toBe(expected);
  });

  it('goes by the policy’s stock, in any order', () => {
    expect(isOversized(640_000, 160_000, policy({ stock: stock([640, 160]) }))).toBe(false);
    expect(isOversized(960_000, 160_000, policy({ stock: stock([960, 640, 160]) }))).toBe(true);
  });
});
