import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Nearest } from '../../src/documents/nearest.js';

describe('the nearest names', () => {
  it.each([
    ['1.1.9', ['1.1.1', '1.1.2', '1.1.10', '1.2.9', '9.9.9'], ['1.1.1', '1.1.2', '1.2.9']],
    ['bord', ['hall', 'board', 'bored'], ['board', 'bored']],
    ['ground floor', ['Ground floor', 'Ground flour'], ['Ground floor', 'Ground flour']],
    ['a', ['b', 'bc'], ['b']],
    ['board', ['hall', 'attic'], []],
    ['board', ['board', 'board'], ['board']],
    ['board', [], []],
  ])('of %j among %j are %j', (name, names, found) => {
    expect(new Nearest().to(name, () => names)).toEqual(found);
  });

  it('may differ in a third of the name, and no more', () => {
    expect(new Nearest().to('abcdef', () => ['abcdXX', 'abcXXX'])).toEqual(['abcdXX']);
  });

  it('do not hang on the order of the names', () => {
    const names = fc.array(fc.stringMatching(/^[ab]{1,4}$/), { maxLength: 8 });
    fc.assert(
      fc.property(names, fc.stringMatching(/^[ab]{1,4}$/), (list, name) => {
        expect(new Nearest().to(name, () => [...list].reverse())).toEqual(new Nearest().to(name, () => list));
      }),
    );
  });

  it('of names that nobody types are none, and cost next to nothing', () => {
    const nearest = new Nearest();
    expect(nearest.to('x'.repeat(61), () => ['x'.repeat(61)])).toEqual([]);
    expect(nearest.to('x'.repeat(60), () => ['x'.repeat(61)])).toEqual([]);
    expect(nearest.work).toBe(1);
  });

  it('cost no more than the bound, however many are wrong', () => {
    const names = Array.from({ length: 65_000 }, (_, index) => `1.${index % 16}.${index}`);
    const nearest = new Nearest(10_000_000);
    const found = Array.from({ length: 5000 }, (_, index) => nearest.to(`1.2.${index}x`, () => names).length);
    expect(nearest.work).toBeLessThan(10_000_000 + 60 * 60);
    expect(nearest.work).toBeGreaterThan(9_000_000);
    expect(found[0]).toBeGreaterThan(0);
    expect(found.at(-1)).toBe(0);
  });
});
