import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { quantile, riseOfFloor } from './figures.mjs';
import { soak } from './run.mjs';

const MAIN = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const DOUBLE = fileURLToPath(new URL('double.mjs', import.meta.url));

/** A machine that is busy with other tests is slow, and a short run is warming up for most of its time. */
const BOUNDS = { answerWithinMs: 20_000, healthMs: 5_000, riseMib: 300, stopWithinMs: 20_000 };

const soaked = (command: readonly string[], seconds: number, bounds = {}) =>
  soak({ command, seconds, seed: 1, large: false, bounds: { ...BOUNDS, ...bounds } });

/** It looks at the service through /proc. */
const isLinux = process.platform === 'linux';

test.runIf(isLinux)(
  'the service passes',
  async () => {
    expect(await soaked([MAIN, 'serve', '--port', '0'], 3)).toEqual([]);
  },
  90_000,
);

describe('the soak raises an alarm at a service', () => {
  test.runIf(isLinux).for([
    ['other bytes', /a report that is not its own/],
    ['other problem', /answered 200 no problem, not 4/],
    ['own fault', /answered 500.*\nlogged: .*a fault of our own/],
    ['no answer', /lost answers.*(aborted|timeout)/i, { answerWithinMs: 500 }],
    ['memory kept', /memory: rose by/, { riseMib: 20 }],
    ['files kept open', /files: \d+ open/, { settleMs: 500 }],
    ['files left', /temporary files left: left-/],
    ['loop blocked', /health: 99 % within/, { healthMs: 300 }],
    ['deaf', /ended with SIGKILL/, { stopWithinMs: 500 }],
  ] as const)('with the fault "%s"', { timeout: 90_000 }, async ([fault, alarm, bounds]) => {
    expect((await soaked([DOUBLE, fault], 1.5, bounds)).join('\n')).toMatch(alarm);
  });
});

describe('the rise of memory', () => {
  const saw = (at: number) => (at % 7) * 40; // what is collected again
  const samples = (value: (at: number) => number) => Array.from({ length: 1200 }, (_, at) => value(at));

  test('is that of the floor, in the second half', () => {
    expect(riseOfFloor(samples(saw))).toBeCloseTo(0, 0);
    expect(riseOfFloor(samples((at) => Math.min(at, 500) + saw(at)))).toBeCloseTo(0, 0);
    expect(riseOfFloor(samples((at) => at / 10 + saw(at)))).toBeCloseTo(55, 0);
  });

  test('is none where nothing was sampled', () => expect(riseOfFloor([])).toBeCloseTo(0));
});

test('a quantile is a value that the share does not exceed', () => {
  expect([0, 0.5, 0.99, 1].map((share) => quantile([4, 1, 3, 2], share))).toEqual([1, 3, 4, 4]);
});
