/**
 * The catalogue of bad input. Everything in it is made here, byte by byte, and sent over HTTP to one service, compiled
 * and in a process of its own, one case after the other. `groups/` holds the cases, a table for each kind of fault; a
 * case is a line that says what is sent, the status, the code of the problem and the part that the problem names.
 *
 * Of each case is held (see `checks.ts`): the answers and no others, the problem whole and without internals, the
 * connection closed, all in time. And of the service: it says that it is alive, while it answers and after; it has at no
 * time taken more memory than a few uploads; a sound archive gets the same report, byte by byte, as before the first
 * case. In the end it has left no file, no connection and no process, and logged no fault of its own.
 *
 * A case that is found in the wild becomes a line here. What is audited all the same stands beside what is refused: a
 * service that refuses everything would not pass.
 */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { Service } from '../soak/service.mjs';
import { fixtureArchive } from '../support/archives.js';
import type { Case } from './cases.js';
import { checkAnswers } from './checks.js';
import { GROUPS } from './groups/index.js';
import { type Answer, raw, request, upload } from './send.js';

const WITHIN_MS = 5_000;
/** The promise is 100 ms on a machine that does nothing else; this tells a service that hangs from a slow machine. */
const ALIVE_WITHIN_MS = 3_000;
/** What the service may take at any time beside what it held after its first audit: a few uploads at their limit. */
const GROWTH_MIB = 600;
const FEWEST_CASES = 150;

const HAS_PROC = existsSync('/proc/self/status');
const ALIVE = raw(request('GET /healthz', ['Host: a', 'Connection: close']));

let service: Service;
let port: number;
let atStart: { readonly report: readonly Answer[]; readonly residentMib: number; readonly openFiles: number };
let auditSound: () => Promise<readonly Answer[]>;

beforeAll(async () => {
  service = new Service([fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url)), 'serve', '--port', '0']);
  port = await service.port();
  const house = await fixtureArchive('house');
  auditSound = () => upload(() => house)(port);
  const report = await auditSound();
  expect(report.map(({ status }) => status)).toEqual([200]);
  const figures = HAS_PROC ? service : { residentMib: 0, openFiles: 0 };
  atStart = { report, residentMib: figures.residentMib, openFiles: figures.openFiles };
});

afterAll(() => service.dispose());

async function checkAlive(): Promise<void> {
  const [answer] = await within(ALIVE_WITHIN_MS, ALIVE(port));
  expect([answer?.status, answer?.body]).toEqual([200, '{"status":"alive"}']);
}

async function checkSound(): Promise<void> {
  const [answer] = await auditSound();
  expect(answer?.body).toBe(atStart.report[0]?.body);
  if (HAS_PROC) expect(service.peakMib - atStart.residentMib).toBeLessThan(GROWTH_MIB);
}

async function within<T>(ms: number, step: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`no answer, or an open connection, after ${ms} ms`)), ms);
  });
  return Promise.race([step, late]).finally(() => clearTimeout(timer));
}

async function check(one: Case): Promise<void> {
  const [answers] = await Promise.all([within(one.withinMs ?? WITHIN_MS, one.send(port)), checkAlive()]);
  checkAnswers(one, answers);
  await checkAlive();
  await checkSound();
}

for (const { name, cases } of GROUPS) {
  describe(name, () => {
    for (const one of cases) test(one.what, () => check(one));
  });
}

describe('after all of it', () => {
  test.runIf(HAS_PROC)('no connection is open', () =>
    vi.waitFor(() => expect(service.openFiles).toBeLessThanOrEqual(atStart.openFiles), 5_000),
  );

  test.runIf(HAS_PROC)('no process was started', () => expect(service.children).toEqual([]));

  test('no file is left', () => expect(service.leftFiles).toEqual([]));

  test('no fault of its own was logged', () => expect(service.errors).toEqual([]));

  test('it ends as it is told', async () => expect(await service.stop()).toBeUndefined());
});

describe('the catalogue', () => {
  const names = GROUPS.flatMap(({ name, cases }) => cases.map(({ what }) => `${name}: ${what}`));

  test('is as long as promised', () => expect(names.length).toBeGreaterThanOrEqual(FEWEST_CASES));

  test('has no case twice', () => expect(names).toEqual([...new Set(names)]));
});
