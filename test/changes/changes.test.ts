import { describe, expect, it } from 'vitest';
import { readChanges } from '../../src/changes/changes.js';
import { changesJsonSchema } from '../../src/changes/json-schema.js';
import { type ChangeKind, changeInWords } from '../../src/changes/words.js';
import { checkOf } from '../support/openapi.js';
import { refusalOf } from '../support/refusal.js';

const read = (changes: unknown) => readChanges(JSON.stringify({ changes }), 'changes.yaml');
const said = ({ placeOf: _, ...entry }: Awaited<ReturnType<typeof readChanges>>[number]) => entry;

describe('changes as a document', () => {
  it('are read in YAML and JSON, currents in whole µA', async () => {
    const yaml = 'changes:\n  - {line: "1.1", segment: 2, add: 4, current: 2.5 mA, what: panel, location: Hall}\n';
    const [change] = await readChanges(yaml, 'changes.yaml');
    const expected = { line: '1.1', segment: 2, add: 4, current: 2500, what: 'panel', location: 'Hall' };
    expect(change && said(change)).toEqual(expected);
    expect((await read([{ line: '1.1', supply: '0.64 A' }])).map(said)).toEqual([{ line: '1.1', supply: 640_000 }]);
    expect((await read([{ line: '1.1', remove: 1, product: 'X' }])).map(said)).toEqual([
      { line: '1.1', remove: 1, product: 'X' },
    ]);
  });

  it.each<[unknown, string]>([
    [[], 'changes: a list is not allowed; it takes a list of 1 to 1000 changes'],
    [[{ line: 1.1, add: 1, product: 'X' }], 'changes[0].line: the number 1.1 is not allowed; it takes quotation marks'],
    [[{ line: '1.1' }], 'changes[0].add: nothing is not allowed; it takes a number; or else remove or supply'],
    [
      [{ line: '1.1', add: 0, product: 'X' }],
      'changes[0].add: "0" is not allowed; it takes a whole number from 1 to 1000',
    ],
    [[{ line: '1.1', add: 1001, product: 'X' }], 'changes[0].add: "1001" is not allowed'],
    [[{ line: '1.1', add: 1 }], 'changes[0].product: nothing is not allowed; it takes what comes; or else current'],
    [
      [{ line: '1.1', add: 1, product: 'X', current: '9 mA' }],
      'changes[0].current: "9 mA" is not allowed; it takes no value beside product',
    ],
    [
      [{ line: '1.1', add: 1, product: 'X', what: 'Y' }],
      'changes[0].what: "Y" is not allowed; it takes no value beside product',
    ],
    [[{ line: '1.1', add: 1, current: 9 }], 'changes[0].current: the number 9 is not allowed; it takes a unit as well'],
    [[{ line: '1.1', add: 1, current: '10.001 A' }], 'changes[0].current: "10.001 A" is not allowed'],
    [[{ line: '1.1', remove: 1 }], 'changes[0].product: nothing is not allowed; it takes what goes'],
    [
      [{ line: '1.1', remove: 1, product: 'X', current: '9 mA' }],
      'changes[0].current: "9 mA" is not allowed; it takes no value beside remove',
    ],
    [
      [{ line: '1.1', supply: '640 mA', product: 'X' }],
      'changes[0].product: "X" is not allowed; it takes no value beside supply',
    ],
    [[{ line: '1.1', supply: '0 mA' }], 'changes[0].supply: "0 mA" is not allowed'],
    [
      [{ line: '1.1', add: 1, remove: 1, product: 'X' }],
      'changes[0].remove: "1" is not allowed; it takes an entry of its own, as this one has add',
    ],
    [[{ line: '1.1', add: 1, product: 'X', colour: 'red' }], 'changes[0]: there is no key "colour"'],
    [
      Array.from({ length: 66 }, () => ({ line: '1.1', add: 1000, product: 'X' })),
      'changes: a list is not allowed; it takes at most 65536 devices that come together, not 66000',
    ],
  ])('%j are refused with place and what is allowed', async (changes, says) => {
    const { code, detail, place } = await refusalOf(() => read(changes));
    expect([code, place.part]).toEqual(['invalid-changes', 'changes.yaml']);
    expect(detail).toContain(says);
  });

  it('that are no document are refused', async () => {
    expect(await refusalOf(() => readChanges('[', 'changes.yaml'))).toMatchObject({ code: 'invalid-changes' });
  });

  it('have a schema that takes what is read', () => {
    const check = checkOf(changesJsonSchema());
    expect(check({ changes: [{ line: '1.1', add: 1, current: '9 mA' }] })).toEqual([]);
    expect(check({ changes: [{ line: '1.1', add: 0 }] })).not.toEqual([]);
    expect(check({ changes: [] })).not.toEqual([]);
  });
});

describe('a change in words', () => {
  it.each<[ChangeKind, string, object]>([
    ['add', '4 of AF-SA8 on 1.1', { line: '1.1', add: 4, product: 'AF-SA8' }],
    ['add', '4 of Lamp on a rail on 1.1 segment 2', { line: '1.1', segment: 2, add: 4, product: 'Lamp on a rail' }],
    ['add', '1 of 2.5 mA on L-7', { line: 'L-7', add: 1, current: 2500 }],
    ['add', '1 of 0.012A on 1.1', { line: '1.1', add: 1, current: 12_000 }],
    ['remove', '2 of 5 mA on 1.1', { line: '1.1', remove: 2, product: '5 mA' }],
    ['supply', '640 mA on 1.1 segment 0', { line: '1.1', segment: 0, supply: 640_000 }],
  ])('--%s %j is read', (kind, text, entry) => {
    const change = changeInWords(kind, text);
    expect(said(change)).toEqual(entry);
    expect(change.placeOf('product')).toBe(`--${kind} "${text}"`);
  });

  it.each<[ChangeKind, string, string]>([
    ['add', 'AF-SA8 on 1.1', '--add "AF-SA8 on 1.1" is not understood; say it such as "4 of 12 mA on 1.1" or "4 of'],
    ['add', '4 of AF-SA8', '--add "4 of AF-SA8" is not understood'],
    ['remove', '-1 of AF-SA8 on 1.1', 'is not understood; say it such as "4 of ORDER-NUMBER on 1.1"'],
    ['supply', '640 mA', '--supply "640 mA" is not understood; say it such as "640 mA on 1.1"'],
    ['add', '0 of AF-SA8 on 1.1', '--add "0 of AF-SA8 on 1.1": add: "0" is not allowed; it takes a whole number'],
    ['add', '1 of 99 A on 1.1', '--add "1 of 99 A on 1.1": current: "99 A" is not allowed'],
    ['supply', '640 on 1.1', '--supply "640 on 1.1": supply: "640" is not allowed; it takes a text of a number'],
    ['add', '1 of X on 1.1 segment 256', 'segment: "256" is not allowed'],
  ])('--%s %j is refused with what to say', async (kind, text, says) => {
    const { code, detail } = await refusalOf(() => changeInWords(kind, text));
    expect([code, detail]).toEqual(['invalid-changes', expect.stringContaining(says)]);
  });
});
