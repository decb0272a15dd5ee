import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, test } from 'vitest';
import { audit } from '../../src/audit.js';
import { INPUT_FAULTS, InputError } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { FORMATS } from '../../src/report/format/index.js';
import { reportSchema } from '../../src/report/report.js';
import { Random } from '../support/campus/random.mjs';
import { rawZip } from '../support/raw-zip.js';
import { Fuzzer } from './fuzzer.mjs';
import { instrument } from './instrument.mjs';
import { checkedOutcome } from './invariants.mjs';
import { targetOf } from './target.mjs';

const SERVICE = { audit, InputError, INPUT_FAULTS, reportSchema, FORMATS };
const COMMAND = fileURLToPath(new URL('fuzz.mjs', import.meta.url));
const CORPUS = fileURLToPath(new URL('corpus/', import.meta.url));

/** Where instrumented code has its counters. */
const counters = globalThis as { edges?: Uint8ClampedArray };

afterEach(() => {
  delete counters.edges;
});

/** A function out of its instrumented source, and its counters. */
function instrumented<T>(source: string): { run: T; edges: Uint8ClampedArray } {
  const { code, edges: count } = instrument(`export default ${source}`);
  const edges = new Uint8ClampedArray(count);
  counters.edges = edges;
  return { run: new Function(code.replace('export default', 'return'))() as T, edges };
}

describe('an instrumented function', () => {
  const SOURCE = `(n) => {
    const words = [];
    if (n > 1) words.push('many'); else if (n === 1) words.push('one');
    if (n > 7) words.push('seven');
    for (let i = 0; i < n; i++) { if (i % 2) continue; words.push(i); }
    for (const word of words) words.length > 9 && words.pop();
    switch (n) { case 2: words.push('two'); break; case 3: default: words.push('other'); }
    const make = () => ({ n, is: n > 4 ? 'large' : n < 0 ? 'negative' : 'small', or: n || 'none', not: null ?? n });
    try { if (n === 5) throw new Error('five'); } catch (error) { words.push(error.message); }
    do n--; while (n > 3);
    return [words, make(), n];
  }`;

  test('does what it did', () => {
    const { run } = instrumented<(n: number) => unknown>(SOURCE);
    const original = new Function(`return ${SOURCE}`)() as (n: number) => unknown;
    for (const n of [-1, 0, 1, 2, 3, 4, 5, 8, 12]) expect(run(n)).toEqual(original(n));
  });

  test('counts the ways it takes, also where nothing is written', () => {
    const { run, edges } = instrumented<(n: number) => number>('(n) => { if (n > 1) n = 1; return n > 0 ? n : 0; }');
    const countsOf = (n: number) => {
      edges.fill(0);
      run(n);
      return edges.join('');
    };
    expect(new Set([0, 1, 2].map(countsOf)).size).toBe(3);
    expect([0, 1, 2].map(countsOf)).toEqual([0, 1, 2].map(countsOf));
  });
});

describe('the fuzzer', () => {
  /** Opens to one word. Guided by coverage it is found letter by letter; by chance all letters have to come at once. */
  const WORD = 'planner';
  const LOCK = `(input) => {
    ${[...Buffer.from(WORD)].map((byte, at) => `if (input[${at}] === ${byte})`).join(' ')} throw new Error('open');
  }`;

  async function opens(isGuided: boolean): Promise<boolean> {
    const { run, edges } = instrumented<(input: Buffer) => void>(LOCK);
    const words = [...WORD].map((letter) => Buffer.from(letter));
    const fuzzer = new Fuzzer({ target: run, edges, random: new Random(1), words, isGuided });
    await fuzzer.seed(Buffer.from('seed'));
    try {
      while (fuzzer.runs < 30_000) await fuzzer.step();
      return false;
    } catch (error) {
      expect((error as Error).message).toBe('open');
      return true;
    }
  }

  test('finds, guided by coverage, what it does not find by chance', async () => {
    expect([await opens(true), await opens(false)]).toEqual([true, false]);
  });
});

describe('the invariants', () => {
  const healthy = async () => audit(readFileSync(new URL('../../fixtures/demo.zip', import.meta.url)));
  let calls = 0;

  test.each<[string, RegExp, () => Promise<unknown>]>([
    ['an error that is no refusal', /out of place/, async () => Promise.reject(new TypeError('out of place'))],
    ['an unknown code', /not documented/, async () => Promise.reject(new InputError('odd' as never, 'x'))],
    ['a refusal without its part', /no part/, async () => Promise.reject(new InputError('malformed-xml', 'x'))],
    ['a report that is out of shape', /segments/, async () => ({ ...(await healthy()), segments: 'none' })],
    ['an incomplete report', /not complete/, async () => ({ summary: { complete: false } })],
    ['another report the next time', /something else/, async () => ({ ...(await healthy()), caution: `${calls++}` })],
    [
      'a prototype that is changed',
      /a prototype has changed/,
      async () => {
        // As a loop does not come by it, for which the report's shape would find a key too many.
        Object.defineProperty(Object.prototype, 'polluted', { value: true, configurable: true });
        return healthy();
      },
    ],
  ])('do not hold for %s', async (_what, message, faulty) => {
    const service = { ...SERVICE, audit: faulty as typeof audit };
    try {
      await expect(checkedOutcome(service, Buffer.alloc(1), DEFAULT_LIMITS)).rejects.toThrow(message);
    } finally {
      Reflect.deleteProperty(Object.prototype, 'polluted');
    }
  });
});

test('the command fuzzes the compiled code, and says how far it got', () => {
  const seconds = '2';
  const { status, stdout, stderr } = spawnSync(process.execPath, [COMMAND, seconds], { encoding: 'utf8' });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(/[1-9]\d* runs/);
});

test('the inputs that fuzzing has kept go on to hold', async () => {
  const target = await targetOf({ service: SERVICE, limits: DEFAULT_LIMITS, rawZip });
  const names = readdirSync(CORPUS);
  expect(names.length).toBeGreaterThan(50);
  for (const name of names) await target(readFileSync(`${CORPUS}${name}`));
});
