import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { percent } from '../../src/units.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';

describe('figures', () => {
  it.each([
    [0, '0', '0'],
    [7.5, '7.5', '7,5'],
    [-106.7, '−106.7', '−106,7'],
    [1280, '1280', '1280'],
    [123456.789, '123456.789', '123456,789'],
  ])('%s is %s in English and %s in German', (value, english, german) => {
    expect([EN.figures.number(value), DE.figures.number(value)]).toEqual([english, german]);
    expect([EN.figures.milliamps(value), DE.figures.volts(value)]).toEqual([`${english} mA`, `${german} V`]);
  });

  it('are the same figures whatever the language', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const said = String(value).replace(/^-/, '−');
        expect(EN.figures.number(value)).toBe(said);
        expect(DE.figures.number(value).replace(',', '.')).toBe(said);
      }),
    );
  });

  it('round a share up to a tenth in both', () => {
    // 80.01 % reads as 80.1 %, so that it never reads as the limit of 80 %.
    expect([EN.figures.percent(0.8001), DE.figures.percent(0.8001)]).toEqual([percent(0.8001), '80,1 %']);
    expect(DE.figures.percent(0.8)).toBe('80,0 %');
    expect([EN, DE].map(({ figures }) => figures.rewritten('88.5 %'))).toEqual(['88.5 %', '88,5 %']);
  });

  it('join lists with the word for and', () => {
    const many = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
    const lists = [[], ['a'], ['a', 'b'], ['a', 'b', 'c'], many.slice(0, 6), many.slice(0, 7), many];
    expect(lists.map((list) => EN.figures.list(list))).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
      'a, b, c, d, e and f',
      'a, b, c, d, e, f and 1 more',
      'a, b, c, d, e, f and 2 more',
    ]);
    expect(lists.map((list) => DE.figures.list(list))).toEqual([
      '',
      'a',
      'a und b',
      'a, b und c',
      'a, b, c, d, e und f',
      'a, b, c, d, e, f und 1 weiteres',
      'a, b, c, d, e, f und 2 weitere',
    ]);
  });
});
