import { describe, expect, it } from 'vitest';
import { type Capacity, shortCircuitOf } from '../../src/electrical/capacity.js';
import { balanceOfSegment, combined, consumer, supply } from '../support/plants.js';

type Rating = number | undefined;

const capacityOf = (...ratings: Rating[]): Capacity =>
  balanceOfSegment([...ratings.map((ma) => supply(ma)), consumer(1, 10)]).capacity;

const times = (n: number, ma: Rating): Rating[] => Array.from({ length: n }, () => ma);

/** Design, the balance, 4. */
describe('the capacity', () => {
  it.each<[string, Rating[], number, number]>([
    ['one supply', [640], 640, 0],
    ['two supplies', [640, 320], 960, 320],
    ['two alike', [640, 640], 1280, 640],
    ['two central and eight decentral ones', [320, 320, ...times(8, 80)], 1280, 960],
    ['eight decentral ones alone', times(8, 25), 200, 175],
    ['the largest that may stand alone, with a decentral one', [1280, 80], 1360, 80],
  ])('is the sum of the ratings, and the largest less when that fails: %s', (_, ratings, usableMa, withoutMa) => {
    expect(capacityOf(...ratings)).toMatchObject({
      ratedUa: usableMa * 1000,
      usableUa: usableMa * 1000,
      withoutLargestUa: withoutMa * 1000,
      unrated: 0,
      tooMany: false,
      shortCircuitExceeded: false,
    });
  });

  it.each<[string, Rating[], Partial<Capacity>]>([
    ['no supply', [], { ratedUa: 0, central: 0, unrated: 0 }],
    ['an unrated supply', [undefined], { ratedUa: 0, central: 1, unrated: 1 }],
    ['an unrated one beside a rated one', [320, undefined], { ratedUa: 320_000, central: 2, unrated: 1 }],
    [
      'three central ones',
      [160, 160, 160],
      { ratedUa: 480_000, central: 3, tooMany: true, shortCircuitExceeded: false },
    ],
    ['nine decentral ones', times(9, 25), { ratedUa: 225_000, decentral: 9, tooMany: true }],
    ['an unrated third one', [160, 160, undefined], { central: 3, tooMany: true }],
    ['960 + 160', [960, 160], { ratedUa: 1_120_000, tooMany: false, shortCircuitExceeded: true }],
    ['640 + 640.001, which takes the row above', [640, 640.001], { tooMany: false, shortCircuitExceeded: true }],
  ])('is not known with %s', (_, ratings, facts) => {
    expect(capacityOf(...ratings)).toMatchObject({ ...facts, usableUa: null, withoutLargestUa: null });
  });

  it('counts a supply as decentral up to 80 mA', () => {
    expect(capacityOf(80, 80.001)).toMatchObject({ decentral: 1, central: 1 });
  });

  it('holds the rating of a combined supply and coupler', () => {
    expect(balanceOfSegment([combined(320), supply(320), consumer(1, 10)]).capacity.usableUa).toBe(640_000);
  });
});

describe('very many supplies', () => {
  it('are balanced like any others: the largest of them bounds the reach', () => {
    const many = Array.from({ length: 200_000 }, () => ({ ...supply(80), product: 'decentral' }));
    const { verdict, reach } = balanceOfSegment([...many, supply(960), consumer(1, 10)]);
    expect(verdict).toBe('undecidable');
    expect(reach).toEqual(balanceOfSegment([supply(80), supply(960), consumer(1, 10)]).reach);
    expect(reach).not.toEqual(balanceOfSegment([supply(80), consumer(1, 10)]).reach);
  });
});

describe('the short-circuit current', () => {
  it.each([
    [25, 0],
    [80, 0],
    [80.001, 1000],
    [160, 1000],
    [160.001, 1000],
    [320, 1000],
    [320.001, 1500],
    [640, 1500],
    [640.001, 2250],
    [960, 2250],
    [960.001, 3000],
    [1280, 3000],
    [5000, 3000],
  ])('of a rating of %d mA is that of its row or the next higher one: %i mA', (ratingMa, currentMa) => {
    expect(shortCircuitOf(Math.round(ratingMa * 1000))).toBe(currentMa * 1000);
  });

  it('of supplies adds up over the rated central ones', () => {
    expect(capacityOf(640, 320, 80, undefined).shortCircuitUa).toBe(2_500_000); // 1.5 + 1.0 A
  });
});
