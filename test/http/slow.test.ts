import type { Socket } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EN } from '../../src/words/en/words.js';
import {
  answerOn,
  head,
  open,
  reportOf,
  type Server,
  startServer,
  stubRunner,
  upload,
  ZIP,
} from '../support/server.js';

/** Clients that take their time, against limits of one second; how late a limit may bite is bounded generously. */
const LATEST_MS = 10_000;
const REPORT = 'x'.repeat(64 * 1024 * 1024);
let server: Server;

beforeAll(async () => {
  const limits = { headerSeconds: 1, requestSeconds: 2, idleSeconds: 1, answerSeconds: 1, uploadsHeld: 1 };
  server = await startServer({ audits: stubRunner(async () => reportOf(REPORT)), limits });
});

afterAll(() => server.stop());

/** Sends a byte again and again until the connection is closed. */
function drip(socket: Socket): void {
  const timer = setInterval(() => socket.write('x'), 100);
  socket.once('close', () => clearInterval(timer)).on('error', () => {});
}

describe('a request that comes a byte at a time', () => {
  it.each([
    ['in its headers', 'POST /v1/audits HTTP/1.1\r\nHost: a\r\nX-Slow: '],
    ['in its body', head({ ...ZIP, 'content-length': 1_000_000 })],
    ['in its body without a length', `${head({ ...ZIP, 'transfer-encoding': 'chunked' })}ffff\r\n`],
    ['in its form', `${head({ 'content-type': 'multipart/form-data; boundary=B', 'content-length': 1_000_000 })}--B`],
    ['not at all', ''],
  ])('%s is ended with 408', async (_where, start) => {
    const begun = performance.now();
    const socket = await open(server.port);
    socket.write(start);
    if (start !== '') drip(socket);
    const answer = await answerOn(socket);
    expect(answer.status).toBe(408);
    expect(JSON.parse(answer.body)).toEqual({
      type: 'urn:linebudget:problem:request-timeout',
      ...EN.problems['request-timeout'],
      status: 408,
      detail:
        'a request has to arrive within 2 seconds (the limit requestSeconds), its headers within 1 (headerSeconds)',
    });
    expect(performance.now() - begun).toBeLessThan(LATEST_MS);
  });

  it('is ended sooner where it stays below uploadBytesPerSecond', async () => {
    const own = await startServer({ audits: stubRunner(async () => reportOf('{}')) });
    const socket = await open(own.port);
    socket.write(head({ ...ZIP, 'content-length': 1_000_000 }));
    drip(socket);
    const { status, body } = await answerOn(socket);
    await own.stop();
    expect(status).toBe(408);
    expect(JSON.parse(body).detail).toContain('less than 1024 bytes a second (the limit uploadBytesPerSecond)');
  });

  it('has left its place to the next one', async () => {
    expect((await upload(server.url, 'abc')).status).toBe(200);
  });
});

it('a connection that is kept and idle is closed', async () => {
  const begun = performance.now();
  const socket = await open(server.port);
  socket.write(head({ connection: 'keep-alive' }, '/healthz', 'GET'));
  expect((await answerOn(socket)).status).toBe(200);
  expect(performance.now() - begun).toBeLessThan(LATEST_MS);
});

it('an answer that nobody reads is given up, and its place goes to the next one', async () => {
  const socket = await open(server.port);
  socket.pause();
  socket.write(head({ ...ZIP, 'content-length': 3 }));
  socket.write('abc');
  const begun = performance.now();
  while ((await upload(server.url, 'abc')).status !== 200) {
    expect(performance.now() - begun).toBeLessThan(LATEST_MS);
  }
  expect((await answerOn(socket)).body.length).toBeLessThan(REPORT.length);
});
