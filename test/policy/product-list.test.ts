import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { InputError } from '../../src/errors.js';
import { DEFAULT_POLICY, withProducts } from '../../src/policy/effective.js';
import { readProductList } from '../../src/policy/product-list.js';
import { formatCsvUnknowns } from '../../src/report/format/csv-unknowns.js';
import { fixtureArchive } from '../support/archives.js';
import { reportOf } from '../support/formats.js';

const NAME = 'sheets.csv';
const read = (...lines: string[]) => readProductList(lines.join('\r\n'), NAME);
const HEADER = 'orderNumber,productId,currentMa,ratingMa,note';
const NOTE = `filled in by hand in ${NAME}`;

function refusalOf(...lines: string[]): InputError {
  try {
    read(...lines);
  } catch (cause) {
    if (cause instanceof InputError) return cause;
    throw cause;
  }
  throw new Error('the list was read');
}

describe('a list that is filled in', () => {
  it('gives an entry for each product: by its id, else by its order number', () => {
    expect(read(HEADER, 'A-1,M-1,7.5,,sheet of 2024', 'A-2,,,640,', ',M-3,0,,')).toEqual([
      { id: 'M-1', currentMa: 7.5, note: 'sheet of 2024' },
      { orderNumber: 'A-2', ratingMa: 640, note: NOTE },
      { id: 'M-3', currentMa: 0, note: NOTE },
    ]);
  });

  it('says nothing of rows that are not filled in, nor of empty ones', () => {
    expect(read(HEADER, 'A-1,M-1,,,', 'A-2,M*2, , ,looked for it', '', ',,,,', ',,,,a remark')).toEqual([]);
    expect(read(HEADER)).toEqual([]);
  });

  it.each([
    ['columns in another order, and more of them', 'note,x,ratingMa,productId\r\nn,1,640,M-1'],
    ['semicolons', 'productId;note;ratingMa\r\nM-1;n;640'],
    ['tabulators', 'productId\tnote\tratingMa\r\nM-1\tn\t640'],
    ['a byte order mark', '\uFEFFproductId,note,ratingMa\r\nM-1,n,640'],
    ['line feeds', 'productId,note,ratingMa\nM-1,n,640\n'],
    ['carriage returns', 'productId,note,ratingMa\rM-1,n,640\r'],
    ['quotation marks', '"productId","note","ratingMa"\r\n"M-1","n","640"'],
    ['blanks around headings and numbers', 'productId , note,ratingMa \r\nM-1,n, 640 '],
    ['no cell for an empty last column', 'productId,ratingMa,x,note\r\nM-1,640'],
  ])('is read with %s', (_what, source) => {
    const [entry, ...more] = readProductList(source, NAME);
    expect(more).toEqual([]);
    expect({ ...entry, note: '' }).toEqual({ id: 'M-1', ratingMa: 640, note: '' });
  });

  it.each([
    [',', '12.5', 12.5],
    [',', '1.280', 1.28],
    [';', '12,5', 12.5],
    [';', '12.5', 12.5],
    [';', '"12,5"', 12.5],
    ['\t', '12,5', 12.5],
    [';', '0,125', 0.125],
    [';', '1,28', 1.28],
    [';', '1280', 1280],
  ])('with %j between the cells reads %j as %d', (separator, given, expected) => {
    const list = [['productId', 'currentMa'].join(separator), ['M-1', given].join(separator)];
    expect(read(...list)).toEqual([{ id: 'M-1', currentMa: expected, note: NOTE }]);
  });

  it.each([
    [',', '"12,5"'],
    [',', '12 mA'],
    [',', '1e3'],
    [',', 'Infinity'],
    [',', '.'],
    [';', '1.280'],
    [';', '1,280'],
    ['\t', '12.345'],
    [';', '1.280,5'],
    [',', '-1'],
    [',', '10000.5'],
  ])('with %j between the cells refuses %j', (separator, given) => {
    const list = [['productId', 'currentMa'].join(separator), ['M-1', given].join(separator)];
    expect(refusalOf(...list).message).toMatch(
      /^"sheets\.csv", line 2: currentMa: ".+" is not allowed; it takes a number/,
    );
  });

  it('holds the bounds of a policy’s products', () => {
    expect(read(HEADER, 'A,,0,,', 'B,,10000,,', 'C,,,10000,', 'D,,,0.001,')).toHaveLength(4);
    expect(refusalOf(HEADER, 'A,,-0.001,,').detail).toContain(
      '"-0.001" is not allowed; it takes a number from 0 to 10000',
    );
    expect(refusalOf(HEADER, 'A,,,0,').detail).toContain('ratingMa: "0" is not allowed; it takes a number from 0.001');
    expect(refusalOf(HEADER, 'A,,,10000.001,').detail).toContain('from 0.001 to 10000');
    expect(refusalOf(HEADER, `A,,5,,${'n'.repeat(501)}`).detail).toMatch(
      /^note: "n+…" is not allowed; it takes a text/,
    );
  });

  it('takes back the apostrophe that keeps spreadsheets from calculating', () => {
    expect(read(HEADER, "'=A,,5,,'-from memory", "'A,,6,,", "''=A,,7,,")).toEqual([
      { orderNumber: '=A', currentMa: 5, note: '-from memory' },
      { orderNumber: "'A", currentMa: 6, note: NOTE },
      { orderNumber: "'=A", currentMa: 7, note: NOTE },
    ]);
  });

  it('puts rows of one product together', () => {
    expect(read(HEADER, 'A,M-1,5,,one', 'A,M-1,,320,two', 'A,M-1,5,,')).toEqual([
      { id: 'M-1', currentMa: 5, ratingMa: 320, note: 'one' },
    ]);
    const { place, detail } = refusalOf(HEADER, 'A,M-1,5,,', 'A,M-1,6,,');
    expect([place.line, detail]).toEqual([
      3,
      'currentMa: "6" is not allowed; it takes 5, as line 2 says of the same product',
    ]);
  });

  it('reads back whatever product is named', () => {
    const text = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 });
    // one line that is not blank, as the archive may name a product; a wildcard is refused
    const named = text.filter((one) => one.trim() !== '' && !/[\p{Cc}\p{Zl}\p{Zp}*\uFFFD]/u.test(one));
    fc.assert(
      fc.property(named, fc.integer({ min: 0, max: 10_000 }), (orderNumber, currentMa) => {
        const unknown = { orderNumber, productId: '', product: null, manufacturer: null, wanted: 'current' as const };
        const rest = { because: '', declared: null, chargedMa: null, devices: 1, places: [], turnsAtMa: null };
        const list = formatCsvUnknowns({ unknowns: [{ ...unknown, ...rest }] });
        const filled = list.replace(/,,,\r\n$/, `,${currentMa},,\r\n`);
        expect(readProductList(filled, NAME)).toEqual([{ orderNumber, currentMa, note: NOTE }]);
      }),
    );
  });
});

describe('a list that cannot be used', () => {
  it.each<[string, string[], number, RegExp]>([
    ['nothing', [''], 1, /^the first line is no header/],
    ['no header', ['A,M-1,5'], 1, /^the first line is no header.*productId or orderNumber, and currentMa or ratingMa$/],
    ['nothing to fill in', ['orderNumber,productId,note', 'A,M-1,'], 1, /^the first line is no header/],
    ['a column twice', ['productId,currentMa,currentMa', 'M-1,5,6'], 1, /^the column currentMa stands there twice/],
    ['no product', [HEADER, ',,5,,'], 2, /^productId: nothing is not allowed; it takes the id of a product/],
    ['a wildcard in an id', [HEADER, 'A,M-*,5,,'], 2, /^productId: "M-\*" is not allowed; it takes one product/],
    [
      'a wildcard in an order number',
      [HEADER, 'A*,,5,,'],
      2,
      /^orderNumber: "A\*" is not allowed; it takes one product/,
    ],
    ['another encoding', [HEADER, 'T\uFFFDr,,5,,'], 2, /^orderNumber: .* takes a text in UTF-8/],
    [
      'an id that is too long',
      [HEADER, `,${'M'.repeat(401)},5,,`],
      2,
      /^productId: "M+…" is not allowed; it takes a text/,
    ],
    ['a row that was cut', [HEADER, 'A,M-1,5'], 2, /^the row ends before the column ratingMa; it takes 5 cells$/],
    ['a cell too many', [HEADER, 'A,M-1,12,5,,n'], 2, /^"n" stands behind the last column; a row takes 5 cells$/],
    ['a quotation mark left open', [HEADER, 'A,"M-1,5,,', 'B,M-2,6,,'], 3, /^quotation marks do not match/],
    ['a quotation mark in a cell', [HEADER, 'A,M"1,5,,'], 2, /^quotation marks do not match/],
  ])('%s', (_what, lines, line, detail) => {
    const refusal = refusalOf(...lines);
    expect(refusal).toMatchObject({ code: 'invalid-product-list', place: { part: NAME, line } });
    expect(refusal.detail).toMatch(detail);
  });

  it('is told of with all of its faults, by line', () => {
    const { place, detail } = refusalOf(HEADER, 'A,M-1,x,,', '"B', '",M-2,5,0,', ',,1,,');
    expect(place.line).toBe(2);
    expect(detail.match(/(line \d+: )?\w+: [^;]+ is not allowed/g)).toEqual([
      'currentMa: "x" is not allowed',
      'line 3: ratingMa: "0" is not allowed',
      'line 5: productId: nothing is not allowed',
    ]);
  });

  it.each([
    [20, ''],
    [21, '; 1 more of the kind'],
  ])('with %d faults tells of 20 of them', (faults, rest) => {
    const { detail } = refusalOf(HEADER, ...Array.from({ length: faults }, () => 'A,,x,,'));
    expect(detail.match(/ is not allowed/g)).toHaveLength(20);
    expect(detail.endsWith(`without unit${rest}`)).toBe(true);
  });
});

it('a list that an audit gives, filled in, leaves nothing to look up', async () => {
  const before = await reportOf('school');
  const [header = '', ...rows] = formatCsvUnknowns(before).trimEnd().split('\r\n');
  const filled = rows.map((row) => row.replace(/,,,$/, row.includes(',rating,') ? ',,640,sheet' : ',11,,sheet'));
  const products = readProductList([header, ...filled].join('\r\n'), NAME);
  expect(products).toHaveLength(before.unknowns.length);
  const after = await audit(await fixtureArchive('school'), { policy: withProducts(DEFAULT_POLICY, products) });
  expect(after.unknowns).toEqual([]);
  const looked = new Set(
    before.unknowns.filter(({ wanted }) => wanted === 'current').map(({ productId }) => productId),
  );
  const charged = after.segments
    .flatMap(({ devices }) => devices)
    .filter(({ productId, origin }) => origin !== null && looked.has(productId ?? ''));
  expect(charged.length).toBeGreaterThan(5);
  expect(new Set(charged.map(({ origin, currentMa }) => `${origin} ${currentMa}`))).toEqual(new Set(['overridden 11']));
  expect(after.segments.find(({ label }) => label === '2.4')?.supply.capacityMa).toBe(640);
});
