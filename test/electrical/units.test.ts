import { describe, expect, it } from 'vitest';
import { fromMa, greatest, parseMilliamps, percent, sum, toMa, toMaOrNull } from '../../src/units.js';

describe('a current as a document writes it', () => {
  it.each([
    ['10', 10_000],
    ['7.5', 7_500],
    ['.5', 500],
    ['5.', 5_000],
    ['+3', 3_000],
    ['-3', -3_000],
    ['1e1', 10_000],
    ['1E+1', 10_000],
    ['25e-1', 2_500],
    ['0.001', 1],
    ['  12\t', 12_000],
    ['007', 7_000],
    [`${'0'.repeat(39)}5`, 5_000],
    [`2.${'5'.repeat(40)}`, 2_556], // 2.5555… mA, to the nearest µA
    ['1.0004', 1_000],
    ['1.0006', 1_001],
    ['1000000', 1_000_000_000], // 1 kA, the greatest that is read
    ['-1000000', -1_000_000_000],
  ])('“%s” is %i µA', (text, ua) => {
    expect(parseMilliamps(text)).toBe(ua);
  });

  it('is not a declared nothing where it is negative, however small', () => {
    expect(parseMilliamps('-0.0004')).toBeUndefined();
  });

  it.each(['0', '-0', '0.0', '0.0004', '1e-400'])('“%s” is nothing, without a sign', (text) => {
    expect(parseMilliamps(text)).toBe(0); // toBe tells 0 from -0
  });

  it.each([
    '',
    ' ',
    '\t\n',
    'NaN',
    'Infinity',
    '-Infinity',
    '1e400', // no finite number
    '1'.repeat(40),
    '1000000.001', // beyond 1 kA
    '-1000000.001',
    '1,5',
    '1 5',
    '1.000,5',
    '12 mA',
    '0x10',
    '1_000',
    '.',
    '+',
    '-',
    'e1',
    '1e',
    '1e1.5',
    '--3',
    '+-3',
    '1.2.3',
    '１２', // digits of another script
    '½',
    'ten',
  ])('“%s” is none', (text) => {
    expect(parseMilliamps(text)).toBeUndefined();
  });
});

describe('currents inside', () => {
  it('are whole, so that 2.5 + 6.5 is exactly 9 and 0.1 + 0.2 exactly 0.3', () => {
    const added = (...texts: string[]) => toMa(sum(texts.map((text) => parseMilliamps(text) ?? Number.NaN)));
    expect(added('2.5', '6.5')).toBe(9);
    expect(added('0.1', '0.2')).toBe(0.3);
    expect(added(...Array.from({ length: 1000 }, () => '0.001'))).toBe(1);
    expect(added()).toBe(0);
  });

  it.each([2.5, 0.001, 16.3, 1280, 4.35])('come back as they went in: %d mA', (ma) => {
    expect(Number.isInteger(fromMa(ma))).toBe(true);
    expect(toMa(fromMa(ma))).toBe(ma);
  });

  it('stay unknown where they are unknown', () => {
    expect([toMaOrNull(null), toMaOrNull(0), toMaOrNull(2500)]).toEqual([null, 0, 2.5]);
  });
});

describe('the greatest', () => {
  it.each([
    [[7], 7],
    [[-2, -1, -3], -1],
    [[], Number.NEGATIVE_INFINITY],
  ])('of %j is %d', (values, most) => {
    expect(greatest(values)).toBe(most);
  });

  it('is found among more values than a call takes arguments', () => {
    const values = Array.from({ length: 1_000_000 }, (_, index) => index % 1000);
    expect(() => Math.max(...values)).toThrow(RangeError);
    expect(greatest(values)).toBe(999);
  });
});

describe('a share in words', () => {
  it.each([
    [0, '0.0 %'],
    [0.8, '80.0 %'],
    [0.8 + 1e-6, '80.1 %'],
    [0.7999, '80.0 %'],
    [1, '100.0 %'],
    [1.000_001, '100.1 %'],
    [0.1 + 0.2, '30.0 %'], // 0.30000000000000004: the tail of the arithmetic is no share
  ])('%d reads %s, never less than it is', (ratio, text) => {
    expect(percent(ratio)).toBe(text);
  });
});
