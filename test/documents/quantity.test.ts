import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { quantity } from '../../src/documents/quantity.js';

const RANGE = { least: -100, most: 100_000 };
const read = (kind: Parameters<typeof quantity>[0], text: unknown) => quantity(kind, RANGE, 'it').safeParse(text).data;

describe('a quantity', () => {
  it.each([
    ['length', '40 m', 40],
    ['length', '40m', 40],
    ['length', '0.04 km', 40],
    ['length', '0.07 km', 70],
    ['current', '50 mA', 50_000],
    ['current', '0.05 A', 50_000],
    ['current', '2.5 mA', 2500],
    ['current', '0.0004 mA', 0],
    ['voltage', '29.5 V', 29.5],
    ['voltage', '29500 mV', 29.5],
    ['time', '4 h', 4],
    ['time', '30 min', 0.5],
    ['resistance', '0.5 ohm', 0.5],
    ['resistance', '0.5 Ω', 0.5],
    ['resistance', '0.5 \u2126', 0.5],
    ['loopResistance', '72 ohm/km', 72],
    ['loopResistance', '72 Ω/km', 72],
    ['temperature', '30 °C', 30],
    ['temperature', '-5 C', -5],
    ['capacity', '7.2 Ah', 7.2],
    ['capacity', '7200 mAh', 7.2],
    ['share', '85 %', 0.85],
  ] as const)('as %s, %j is %d', (kind, text, value) => {
    expect(read(kind, text)).toBe(value);
  });

  it.each([
    40,
    '40',
    '40 km/h',
    '40 M',
    '40  m',
    ' 40 m',
    '40 m ',
    '4,0 m',
    '.5 m',
    '1e3 m',
    '+4 m',
    '٤ m',
    'm',
    '',
    null,
    [],
    true,
    '1234567890 m',
    'Infinity m',
    '40 mA',
  ])('is not %j', (text) => {
    expect(read('length', text)).toBeUndefined();
  });

  it.each([
    [{ least: 0, most: 10 }, ['0 m', '-0 m', '10 m', '0.01 km'], ['-0.001 m', '10.001 m', '0.0101 km']],
    [{ over: 0, most: 10 }, ['0.001 m'], ['0 m', '-1 m']],
    [{}, ['-5 m', '99999 km'], []],
  ])('within %j takes both bounds exactly', (range, inside, outside) => {
    const shape = quantity('length', range, 'it');
    for (const text of inside) expect([text, shape.safeParse(text).success]).toEqual([text, true]);
    for (const text of outside) expect([text, shape.safeParse(text).success]).toEqual([text, false]);
  });

  it('says in one text what it takes, for a text that is none and for one that is out of range', () => {
    const shape = quantity('current', { over: 0, most: 10_000 }, 'what it delivers');
    const allowed = 'a text of a number above 0, up to 10000 mA with its unit (mA or A) such as 50 mA';
    const said = (wrong: unknown) => shape.safeParse(wrong).error?.issues.map(({ message }) => message);
    for (const wrong of ['50', '0 mA', '10.001 A', '0.0004 mA']) expect(said(wrong)).toEqual([allowed]);
    expect(said(50)).toEqual([`a unit as well: ${allowed}`]);
    expect(z.toJSONSchema(shape, { io: 'input' })).toMatchObject({
      type: 'string',
      pattern: expect.stringContaining('mA|A'),
      description: `what it delivers: ${allowed}`,
    });
  });

  it('is the same whichever unit it is written in', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000_000 }), (ua) => {
        const [whole, parts] = [Math.floor(ua / 1_000_000), String(ua % 1_000_000).padStart(6, '0')];
        expect(read('current', `${whole}.${parts} A`)).toBe(ua);
        expect(read('current', `${Math.floor(ua / 1000)}.${String(ua % 1000).padStart(3, '0')} mA`)).toBe(ua);
      }),
    );
  });
});
