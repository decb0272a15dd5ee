import { describe, expect, it } from 'vitest';
import { Gate } from '../../src/http/gate.js';

const stays = new AbortController().signal;

/** Enters, and notes when it is in. */
function entering(gate: Gate, name: string, inside: string[], signal = stays): Promise<unknown> {
  return gate.enter(signal).then(
    () => inside.push(name),
    (reason) => reason,
  );
}

describe('the gate', () => {
  it('lets in as many as may be inside, then one for one that leaves, in the order of their coming', async () => {
    const gate = new Gate(2, 3);
    const inside: string[] = [];
    const all = ['a', 'b', 'c', 'd', 'e'].map((name) => entering(gate, name, inside));
    await Promise.all(all.slice(0, 2));
    expect([inside.join(''), gate.isFull]).toEqual(['ab', true]);
    for (const [index, expected] of ['abc', 'abcd', 'abcde'].entries()) {
      gate.leave();
      await all[index + 2];
      expect([inside.join(''), gate.isFull]).toEqual([expected, false]);
    }
  });

  it('is full with nobody waiting where nobody may wait', async () => {
    const gate = new Gate(1, 0);
    expect(gate.isFull).toBe(false);
    await gate.enter(stays);
    expect(gate.isFull).toBe(true);
    gate.leave();
    expect(gate.isFull).toBe(false);
  });

  it('takes who gives up out of the line, and nobody else', async () => {
    const gate = new Gate(1, 2);
    const inside: string[] = [];
    const impatient = new AbortController();
    await entering(gate, 'a', inside);
    const gone = entering(gate, 'b', inside, impatient.signal);
    const last = entering(gate, 'c', inside);
    impatient.abort('enough');
    expect([await gone, gate.isFull]).toEqual(['enough', false]);
    gate.leave();
    await last;
    expect(inside).toEqual(['a', 'c']);
  });

  it('does not let in who has given up before', async () => {
    const gate = new Gate(1, 0);
    expect(await entering(gate, 'a', [], AbortSignal.abort('enough'))).toBe('enough');
    await gate.enter(stays);
  });
});
