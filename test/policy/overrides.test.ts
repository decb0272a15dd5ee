import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OverrideIndex, type ProductOverride, productOverrideSchema, wildcard } from '../../src/policy/overrides.js';

/** The pattern as a regular expression, which is another way to say the same. */
const asRegExp = (pattern: string) =>
  new RegExp(
    `^${pattern
      .split('*')
      .map((piece) => piece.replace(/[\\^$.+?()[\]{}|/-]/g, '\\$&'))
      .join('[^]*')}$`,
  );

describe('a pattern', () => {
  it.each([
    ['A-1', ['A-1'], ['A-10', 'a-1', 'A-', '']],
    ['A-*', ['A-', 'A-1', 'A-*'], ['A', 'B-1', ' A-1']],
    ['*-1', ['-1', 'A-1', '-1-1'], ['-1 ', '1']],
    ['A*1', ['A1', 'A01', 'A11'], ['A', '1', 'A12']],
    ['*b*b*', ['bb', 'abcb', 'bbb'], ['b', 'ab', 'ac']],
    ['ab*ba', ['abba', 'ab-ba'], ['aba', 'ab', 'ba']],
    ['x*y*y', ['xyy', 'xzyy'], ['xy', 'xzy']],
    ['*', ['', 'anything', '*'], []],
    ['**', ['', 'anything'], []],
    ['a.c*', ['a.c', 'a.cd'], ['abc']],
    ['*\n*', ['a\nb'], ['a b']],
  ])('%j', (pattern, matching, others) => {
    const matches = wildcard(pattern);
    expect(matching.filter((text) => !matches(text))).toEqual([]);
    expect(others.filter(matches)).toEqual([]);
  });

  it('matches what the regular expression made from it does', () => {
    const few = (letters: string, most: number) => fc.string({ unit: fc.constantFrom(...letters), maxLength: most });
    fc.assert(
      fc.property(few('ab.*', 8), few('ab.*\n', 12), (pattern, text) => {
        expect(wildcard(pattern)(text)).toBe(asRegExp(pattern).test(text));
      }),
      { numRuns: 5000 },
    );
  });

  it('of many stars looks at a text once', () => {
    // A regular expression would try every way to share 50 stars out over 20 000 letters.
    expect(wildcard(`${'*a'.repeat(50)}*b`)('a'.repeat(20_000))).toBe(false);
  });
});

describe('the entry that counts for a product', () => {
  const entry = (find: Partial<ProductOverride>, note: string): ProductOverride => ({ ...find, currentMa: 1, note });
  const found = (entries: readonly ProductOverride[], id: string, orderNumber: string | null = null) =>
    new OverrideIndex(entries).find({ id, orderNumber })?.note ?? null;

  it.each([
    ['the first of two alike', [entry({ id: 'M-1' }, '1'), entry({ id: 'M-1' }, '2')], '1'],
    ['an exact one before a pattern', [entry({ id: 'M-1' }, '1'), entry({ id: '*' }, '2')], '1'],
    ['a pattern before an exact one', [entry({ id: 'M-*' }, '1'), entry({ id: 'M-1' }, '2')], '1'],
    ['the first of two patterns', [entry({ id: '*-1' }, '1'), entry({ id: 'M-*' }, '2')], '1'],
    ['an order number before an id', [entry({ orderNumber: 'A-1' }, '1'), entry({ id: 'M-1' }, '2')], '1'],
    ['an id before an order number', [entry({ id: 'M-1' }, '1'), entry({ orderNumber: 'A-1' }, '2')], '1'],
    ['a pattern of order numbers', [entry({ orderNumber: 'B*' }, '1'), entry({ orderNumber: 'A*' }, '2')], '2'],
    ['not one that is for another', [entry({ id: 'M-2' }, '1'), entry({ id: 'M-1' }, '2')], '2'],
    ['none', [entry({ id: 'M-2' }, '1'), entry({ orderNumber: 'M-1' }, '2'), entry({ id: 'A-1' }, '3')], null],
  ])('is %s', (_, entries, note) => {
    expect(found(entries, 'M-1', 'A-1')).toBe(note);
  });

  it('is none by an order number where the product has none, whatever the pattern', () => {
    expect(found([entry({ orderNumber: '*' }, '1')], 'M-1')).toBeNull();
    expect(found([entry({ orderNumber: '*' }, '1'), entry({ id: '*' }, '2')], 'M-1')).toBe('2');
    expect(found([entry({ orderNumber: '*' }, '1')], 'M-1', '')).toBe('1');
  });

  it('is the first that matches, tried one by one', () => {
    const text = fc.string({ unit: fc.constantFrom('a', 'b', '*'), minLength: 1, maxLength: 3 });
    const plain = fc.string({ unit: fc.constantFrom('a', 'b'), minLength: 1, maxLength: 3 });
    const entries = fc.array(fc.oneof(fc.record({ id: text }), fc.record({ orderNumber: text })), { maxLength: 8 });
    fc.assert(
      fc.property(entries, plain, fc.option(plain), (finds, id, orderNumber) => {
        const all = finds.map((find, index) => entry(find, String(index)));
        const first = all.find((one) =>
          one.id !== undefined
            ? asRegExp(one.id).test(id)
            : orderNumber !== null && asRegExp(one.orderNumber ?? '').test(orderNumber),
        );
        expect(found(all, id, orderNumber)).toBe(first?.note ?? null);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('an entry', () => {
  const faultsOf = (given: object) =>
    productOverrideSchema.safeParse(given).error?.issues.map(({ path, message }) => `${path.join('.')}: ${message}`) ??
    [];

  it.each([
    ['a current', { currentMa: 0 }],
    ['a current, the greatest', { currentMa: 10_000 }],
    ['a rating', { ratingMa: 0.001 }],
    ['a weight', { fanInWeight: 0 }],
    ['a weight, the greatest', { fanInWeight: 256 }],
    ['a kind', { kind: 'passive' }],
  ])('says %s', (_, says) => {
    expect(faultsOf({ id: 'M-1', note: 'sheet', ...says })).toEqual([]);
  });

  it.each([
    [
      'both an id and an order number',
      { id: 'a', orderNumber: 'b', currentMa: 1, note: 'n' },
      ': either an orderNumber or an id',
    ],
    ['neither', { currentMa: 1, note: 'n' }, ': either an orderNumber or an id'],
    ['nothing of the product', { id: 'a', note: 'n' }, ': at least one of currentMa, ratingMa, fanInWeight and kind'],
    ['no note', { id: 'a', currentMa: 1 }, 'note: a text of 1 to 500 characters on one line'],
    ['a blank note', { id: 'a', currentMa: 1, note: ' ' }, 'note: a text of 1 to 500 characters on one line'],
    ['a note on two lines', { id: 'a', currentMa: 1, note: 'a\nb' }, 'note: a text of 1 to 500 characters on one line'],
    ['a negative current', { id: 'a', currentMa: -0.001, note: 'n' }, 'currentMa: a number from 0 to 10000'],
    ['too great a current', { id: 'a', currentMa: 10_000.001, note: 'n' }, 'currentMa: a number from 0 to 10000'],
    ['a rating of 0', { id: 'a', ratingMa: 0, note: 'n' }, 'ratingMa: a number from 0.001 to 10000'],
    ['half a weight', { id: 'a', fanInWeight: 0.5, note: 'n' }, 'fanInWeight: a whole number from 0 to 256'],
    ['too great a weight', { id: 'a', fanInWeight: 257, note: 'n' }, 'fanInWeight: a whole number from 0 to 256'],
    ['another kind', { id: 'a', kind: 'cable', note: 'n' }, 'kind: one of consumer, supply, coupler, passive'],
  ])('is refused with %s', (_, given, fault) => {
    expect(faultsOf(given)).toEqual([fault]);
  });
});
