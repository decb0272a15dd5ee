import fc from 'fast-check';
import { expect, it } from 'vitest';
import { NearestFirst } from '../../src/electrical/nearest-first.js';

it('gives the nearest of what is in it, whatever was added and taken before', () => {
  const step = fc.option(fc.integer({ min: 0, max: 50 }), { nil: undefined, freq: 3 });
  fc.assert(
    fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
      const queue = new NearestFirst();
      const inside: number[] = [];
      for (const lengthM of steps) {
        if (lengthM === undefined) {
          expect(queue.take()?.lengthM).toBe(inside.sort((a, b) => a - b).shift());
        } else {
          queue.add({ point: 0, lengthM });
          inside.push(lengthM);
        }
      }
      const left = inside.sort((a, b) => a - b);
      expect([...left.map(() => queue.take()?.lengthM), queue.take()]).toEqual([...left, undefined]);
    }),
  );
});
