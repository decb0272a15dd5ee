import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import type { Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { AuditPool } from '../../src/http/pool.js';
import type { AuditDone } from '../../src/http/worker.js';
import {
  answerOn,
  FORM,
  head,
  open,
  poolOf,
  type Server,
  startServer,
  taskOf,
  untilReady,
  upload,
  ZIP,
} from '../support/server.js';

/** Clients that go away. Room for one upload beside the one that runs shows at once whether anything is left over. */
const LIMITS = { auditThreads: 1, auditQueue: 1, uploadsHeld: 2, auditSeconds: 600 };
let pool: AuditPool;
let server: Server;

async function serve(worker: string): Promise<void> {
  pool = poolOf(LIMITS, worker);
  server = await startServer({ audits: pool, limits: LIMITS });
}

afterEach(() => server.stop());

/** An upload of some text, of which the service has all. */
async function sent(text: string): Promise<Socket> {
  const socket = await open(server.port);
  socket.write(head({ ...ZIP, 'content-length': text.length }));
  socket.write(text);
  return socket;
}

/** The first answer that is not 503: a place is given back as soon as the service knows that the client is gone. */
async function whenThereIsRoom(text: string): Promise<Response> {
  for (;;) {
    const answer = await upload(server.url, text);
    if (answer.status !== 503) return answer;
  }
}

describe('a client that goes away while it uploads', () => {
  beforeEach(() => serve('./rough-worker.mjs'));

  it.each([
    ['before its body', head({ ...ZIP, 'content-length': 1000 }), ''],
    ['in its body', head({ ...ZIP, 'content-length': 1000 }), 'abc'],
    ['in a chunk', head({ ...ZIP, 'transfer-encoding': 'chunked' }), 'ff\r\nabc'],
    ['in its form', head({ ...FORM, 'content-length': 1000 }), '--B\r\n'],
  ])('%s gives back its place', async (_where, start, more) => {
    const sockets = await Promise.all([open(server.port), open(server.port)]);
    for (const socket of sockets) socket.write(start + more);
    await isBusy();
    for (const socket of sockets) socket.resetAndDestroy();
    const both = await Promise.all([whenThereIsRoom('a'), whenThereIsRoom('b')]);
    expect(both.map(({ status }) => status)).toEqual([200, 200]);
  });
});

/** Comes to its end when there is no room for another upload. */
async function isBusy(): Promise<void> {
  while ((await upload(server.url, 'a')).status !== 503);
}

describe('a client that goes away while its audit waits', () => {
  const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
  const gate = join(folder, 'gate');
  beforeEach(() => {
    rmSync(gate, { force: true });
    return serve('./waiting-worker.mjs');
  });
  afterEach(() => writeFileSync(gate, '')); // also where a test failed before
  afterAll(() => rmSync(folder, { recursive: true }));

  it.each(['end', 'resetAndDestroy'] as const)('by %s gives back its place in the line', async (leave) => {
    const running = upload(server.url, gate);
    const waiting = await sent(gate);
    await isFull();
    waiting.resume()[leave]();
    while (pool.isFull()) await new Promise(setImmediate);
    const next = upload(server.url, gate);
    await isFull();
    writeFileSync(gate, '');
    const answers = await Promise.all([running, next]);
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
  });
});

async function isFull(): Promise<void> {
  while (!pool.isFull()) await new Promise(setImmediate);
}

describe('a client that goes away while its audit runs', () => {
  beforeEach(() => serve('./rough-worker.mjs'));

  it('ends the audit with its thread, and the next one runs on a new thread', async () => {
    expect(await (await upload(server.url, 'a')).text()).toBe('audit 1 of this thread');
    const running = await sent('endless');
    const waiting = await sent('a');
    await isFull();
    running.destroy();
    expect((await answerOn(waiting)).body).toBe('audit 1 of this thread');
    expect(await (await upload(server.url, 'a')).text()).toBe('audit 2 of this thread');
  });

  it('before its thread has started leaves a service that becomes ready', async () => {
    const starting = poolOf(LIMITS, './rough-worker.mjs');
    const gone = new AbortController();
    const task = taskOf(new TextEncoder().encode('endless'));
    const end = starting.run(task, gone.signal).catch((reason) => reason);
    await new Promise(setImmediate);
    gone.abort('gone');
    expect(await end).toBe('gone');
    await untilReady(starting);
    await starting.close();
  });

  it('does so again and again', async () => {
    for (let round = 0; round < 5; round++) {
      const both = [await sent('endless'), await sent('endless')];
      await isFull();
      for (const socket of both) socket.destroy();
      expect((await whenThereIsRoom('a')).status).toBe(200);
    }
  });

  it('leaves the pool whole, also where the memory of the audit runs out at that moment', async () => {
    const faults: unknown[] = [];
    const tight = poolOf({ auditThreads: 1, auditMemoryMib: 16 }, './rough-worker.mjs', (cause) => faults.push(cause));
    const run = (text: string, signal: AbortSignal) => tight.run(taskOf(new TextEncoder().encode(text)), signal);
    for (let wait = 0; wait < 300; wait += 15) {
      const gone = AbortSignal.timeout(wait);
      const end = await run('memory', gone).catch((reason) => reason);
      if (end !== gone.reason) expect(end).toMatchObject({ code: 'audit-too-large' });
    }
    const { body } = (await run('a', new AbortController().signal)) as AuditDone;
    expect(new TextDecoder().decode(body)).toBe('audit 1 of this thread');
    for (const fault of faults) expect(fault).toMatchObject({ code: 'ERR_WORKER_OUT_OF_MEMORY' });
    await tight.close();
  });
});

it('a client that resets its connection after asking for a tunnel leaves a service that serves on', async () => {
  await serve('./rough-worker.mjs');
  const socket = await open(server.port);
  const asked = once(server.app.server, 'connect');
  socket.write(head({}, 'a.example:443', 'CONNECT'), () => socket.resetAndDestroy());
  const [, peer] = (await asked) as [unknown, Socket];
  if (!peer.closed) await new Promise((resolve) => peer.once('close', resolve));
  expect((await upload(server.url, 'abc')).status).toBe(200);
});
