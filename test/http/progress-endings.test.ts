import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { Agent, request } from 'node:http';
import type { Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { afterAll, afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { commonHeaders } from '../../src/http/answer.js';
import type { AuditPool } from '../../src/http/pool.js';
import type { AuditOutcome } from '../../src/http/worker.js';
import { fixtureArchive } from '../support/archives.js';
import { eventsOf } from '../support/events.js';
import {
  answerOn,
  head,
  open,
  poolOf,
  reportOf,
  type Server,
  startServer,
  stubRunner,
  taskOf,
  upload,
  ZIP,
} from '../support/server.js';

/** Streams that wait, stall or end early. */
const EVENTS = { ...ZIP, accept: 'text/event-stream' };
const WAITING = 'event: progress\ndata: {"stage":"waiting","share":0}\n\n';
const DONE = 'event: progress\ndata: {"stage":"writing","share":1}\n\n';

/** An upload of some text whose progress is wanted, once its first event has come. */
async function watched(port: number, body: string): Promise<Socket> {
  const socket = await open(port);
  socket.write(head({ ...EVENTS, 'content-length': body.length }));
  socket.write(body);
  const [first] = await once(socket, 'data');
  expect(String(first)).toContain('HTTP/1.1 200 OK');
  return socket;
}

async function until(holds: () => boolean): Promise<void> {
  while (!holds()) await new Promise(setImmediate);
}

describe('in the line for a thread', () => {
  const LIMITS = { auditThreads: 1, auditQueue: 1 };
  const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
  const gate = join(folder, 'gate');
  let pool: AuditPool;
  let server: Server;

  beforeEach(async () => {
    rmSync(gate, { force: true });
    pool = poolOf(LIMITS, './waiting-worker.mjs');
    server = await startServer({ audits: pool, limits: LIMITS });
  });

  afterEach(async () => {
    writeFileSync(gate, ''); // also where a test failed before
    await server.stop();
  });

  afterAll(() => rmSync(folder, { recursive: true }));

  it('an audit is told to wait, and the one that finds the line full gets its status', async () => {
    const running = await upload(server.url, gate, EVENTS);
    const waiting = await upload(server.url, gate, EVENTS);
    expect([running.status, waiting.status]).toEqual([200, 200]);
    await until(() => pool.isFull());
    const refused = await upload(server.url, gate, EVENTS);
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([503, '5']);
    const reader = waiting.body?.getReader();
    const first = await reader?.read();
    expect(Buffer.from(first?.value ?? []).toString()).toBe(WAITING);
    writeFileSync(gate, '');
    const rest = await reader?.read();
    expect(Buffer.from(rest?.value ?? []).toString()).toContain(DONE);
    expect(await running.text()).toBe(`${WAITING}${DONE}${gate} is there`);
  });

  it('one whose client goes away gives back its place', async () => {
    const running = await upload(server.url, gate, EVENTS);
    const waiting = await watched(server.port, gate);
    await until(() => pool.isFull());
    waiting.destroy();
    await until(() => !pool.isFull());
    const next = await upload(server.url, gate, EVENTS);
    writeFileSync(gate, '');
    expect(await Promise.all([running.text(), next.text()])).toHaveLength(2);
  });
});

describe('several at once on one thread', () => {
  it('all wait first, and all end with their report', async () => {
    const server = await startServer({ limits: { auditThreads: 1 } });
    const archive = await fixtureArchive('school');
    const all = await Promise.all(
      Array.from({ length: 4 }, async () => eventsOf(await upload(server.url, archive, EVENTS))),
    );
    for (const { events } of all) {
      expect(events[0]?.data).toEqual({ stage: 'waiting', share: 0 });
      expect(events.at(-1)?.name).toBe('report');
    }
    await server.stop();
  });
});

describe('an audit that does not end by itself', () => {
  const LIMITS = { auditThreads: 1, auditQueue: 1, auditSeconds: 1 };

  it('is ended when its client goes away, and the next one has a thread', async () => {
    const server = await startServer({ audits: poolOf({ ...LIMITS, auditSeconds: 600 }, './rough-worker.mjs') });
    for (let round = 0; round < 3; round++) {
      (await watched(server.port, 'endless')).destroy();
      expect(await (await upload(server.url, 'a')).text()).toBe('audit 1 of this thread');
    }
    const figures = await (await fetch(`${server.url}/metrics`)).text();
    expect(figures).toContain('linebudget_audits_total{outcome="aborted"} 3\n');
    await server.stop();
  });

  it('is ended by its limit, which is told as the last event', async () => {
    const server = await startServer({ audits: poolOf(LIMITS, './rough-worker.mjs') });
    const { events } = await eventsOf(await upload(server.url, 'endless', EVENTS));
    expect(events).toMatchObject([
      { name: 'progress', data: { stage: 'waiting' } },
      { name: 'problem', data: { type: 'urn:linebudget:problem:audit-too-long', status: 413 } },
    ]);
    await server.stop();
  });
});

describe('the line on which a thread tells of its progress', () => {
  const LIMITS = { auditThreads: 1, auditQueue: 1, auditMemoryMib: 64 };
  const ROUGH = './rough-worker.mjs';
  const never = new AbortController().signal;
  const openPorts = () => process.getActiveResourcesInfo().filter((name) => name === 'MessagePort').length;

  /** How an audit ended, once no more lines are open than before it. A line left open is a test that does not end. */
  async function endOf(text: string | Uint8Array, signal: AbortSignal, worker?: string, auditSeconds = 600) {
    const pool = poolOf({ ...LIMITS, auditSeconds }, worker);
    const task = (bytes: string | Uint8Array) => taskOf(Uint8Array.from(Buffer.from(bytes)));
    await pool.run(task('a'), never); // the thread has started
    const before = openPorts();
    let told = 0;
    const onProgress = () => void told++;
    const end: object = await pool.run(task(text), signal, onProgress).catch((thrown) => ({ thrown }));
    await pool.run(task('a'), never); // it has again, where it was replaced
    await until(() => openPorts() <= before);
    await pool.close();
    return { end, told };
  }

  it('is closed after a report, with all that was told', async () => {
    const { end, told } = await endOf(await fixtureArchive('school'), never);
    expect(end).toHaveProperty('body');
    expect(told).toBeGreaterThan(10);
  });

  it('is closed after a problem', async () => {
    const { end, told } = await endOf('no archive', never);
    expect(end).toHaveProperty('problem');
    expect(told).toBe(1);
  });

  it.each([
    ['memory ran out', () => endOf('memory', never, ROUGH), { code: 'audit-too-large' }],
    ['the time was over', () => endOf('endless', never, ROUGH, 1), { code: 'audit-too-long' }],
    ['the client went away', () => endOf('endless', AbortSignal.timeout(50), ROUGH), { name: 'TimeoutError' }],
    ['the client was gone before', () => endOf('b', AbortSignal.abort(new Error('gone'))), { message: 'gone' }],
  ])('is closed after %s', async (_why, run, thrown) => {
    expect((await run()).end).toMatchObject({ thrown });
  });
});

describe('an audit that runs for long', () => {
  afterEach(() => vi.useRealTimers());

  it('has a comment sent whenever nothing has happened for ten seconds', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    let tell: (share: number) => void = () => {};
    let finish: (outcome: AuditOutcome) => void = () => {};
    const audits = stubRunner((_task, _signal, onProgress) => {
      tell = (share) => onProgress?.({ stage: 'reading', share });
      return new Promise((resolve) => {
        finish = resolve;
      });
    });
    const server = await startServer({ audits });
    const answer = upload(server.url, 'abc', EVENTS);
    const { body } = await answer;
    vi.advanceTimersByTime(9_999);
    tell(0.1);
    vi.advanceTimersByTime(9_999);
    tell(0.2);
    vi.advanceTimersByTime(20_000);
    finish(reportOf('the end'));
    const progress = (share: number) => `event: progress\ndata: {"stage":"reading","share":${share}}\n\n`;
    const expected = `${WAITING}${progress(0.1)}${progress(0.2)}:\n\n:\n\n${DONE}the end`;
    expect(await text(body as unknown as AsyncIterable<Uint8Array>)).toBe(expected);
    expect(vi.getTimerCount()).toBe(0);
    await server.stop();
  });

  it('may take longer than answerSeconds, which count from its last event', async () => {
    const slow = stubRunner(async () => {
      await new Promise((resolve) => setTimeout(resolve, 1500));
      return reportOf('the end');
    });
    const server = await startServer({ audits: slow, limits: { answerSeconds: 1 } });
    expect(await (await upload(server.url, 'abc', EVENTS)).text()).toBe(`${WAITING}${DONE}the end`);
    await server.stop();
  });

  it('and whose report nobody reads is given up, and its place goes to the next one', async () => {
    const report = 'x'.repeat(64 * 1024 * 1024);
    const audits = stubRunner(async () => reportOf(report));
    const server = await startServer({ audits, limits: { answerSeconds: 1, uploadsHeld: 1 } });
    const socket = await watched(server.port, 'abc');
    socket.pause();
    for (;;) {
      const next = await upload(server.url, 'abc', EVENTS);
      if (next.status === 200) {
        await next.body?.cancel();
        break;
      }
    }
    expect((await answerOn(socket)).body.length).toBeLessThan(report.length);
    await server.stop();
  });

  it('is finished when the service stops, and its connection is closed', async () => {
    let finish: (outcome: AuditOutcome) => void = () => {};
    const audits = stubRunner(
      () =>
        new Promise((resolve) => {
          finish = resolve;
        }),
    );
    const server = await startServer({ audits });
    const agent = new Agent({ keepAlive: true });
    const asked = request(`${server.url}/v1/audits`, { method: 'POST', headers: EVENTS, agent }).end('abc');
    const [answer] = await once(asked, 'response');
    const stopped = server.stop();
    await new Promise(setImmediate);
    finish(reportOf('the end'));
    expect(await text(answer)).toBe(`${WAITING}${DONE}the end`);
    await stopped;
    agent.destroy();
  });
});

it('a stream has the headers of every answer', async () => {
  const server = await startServer({ audits: stubRunner(async () => reportOf('')) });
  const { headers, body } = await upload(server.url, 'abc', EVENTS);
  await body?.cancel();
  const id = headers.get('request-id') ?? '';
  expect(Object.fromEntries(headers)).toMatchObject(commonHeaders(id));
  expect(id).not.toBe('');
  await server.stop();
});
