import { execFile, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AuditRunner } from '../../src/http/pool.js';
import {
  answerOn,
  exchange,
  FORM,
  form,
  head,
  open,
  type Server,
  startServer,
  stubRunner,
  ZIP,
} from '../support/server.js';

/** Answers that come before the body has been read. */
const HAS_CURL = spawnSync('curl', ['--version']).status === 0;
const MIB = 1024 * 1024;
/** Twice the time that the service gives it. */
const CLOSED_WITHIN_MS = 10_000;
const LARGE = Buffer.alloc(64 * MIB, 'x');
const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const file = join(folder, 'large');
const noAudits = stubRunner(() => Promise.reject(new Error('no audits here')));
const full: AuditRunner = { ...noAudits, isFull: () => true };
let small: Server;
let busy: Server;
let usual: Server;

beforeAll(async () => {
  writeFileSync(file, LARGE);
  small = await startServer({ audits: noAudits, limits: { uploadBytes: MIB } });
  usual = await startServer({ audits: noAudits });
  busy = await startServer({ audits: full });
});

afterAll(async () => {
  rmSync(folder, { recursive: true });
  await Promise.all([small.stop(), usual.stop(), busy.stop()]);
});

/** What is refused, and how. */
const REFUSED: [string, () => Server, Record<string, string>, number][] = [
  ['over the limit, as a body', () => small, ZIP, 413],
  ['over the limit, as a form', () => small, FORM, 413],
  ['of a kind that is not read', () => usual, { 'content-type': 'text/plain' }, 415],
  ['for which no audit may wait', () => busy, ZIP, 503],
];

describe.each(REFUSED)('an upload of 64 MiB %s', (_what, server, headers, status) => {
  const body = form([{ name: 'archive', filename: 'a', data: LARGE }]);
  const length = { 'content-length': body.length };

  it('is answered before it is sent, and the connection closed', async () => {
    const socket = await open(server().port);
    socket.write(head({ ...headers, ...length, connection: 'keep-alive' }));
    const answer = await answerOn(socket);
    expect([answer.status, answer.headers.get('connection')]).toEqual([status, 'close']);
  });

  it('is not asked for where the client waits to be asked', async () => {
    const answer = await exchange(server().port, head({ ...headers, ...length, expect: '100-continue' }));
    expect(answer.status).toBe(status);
  });

  it.each([
    ['at once', { 'content-length': body.length }, body],
    ['in a chunk without a length', { 'transfer-encoding': 'chunked' }, chunk(body)],
  ])('is answered so that a client that sends it %s before it reads gets the answer', async (_how, more, bytes) => {
    const socket = await open(server().port);
    socket.pause();
    socket.write(head({ ...headers, ...more, connection: 'keep-alive' }));
    await new Promise<void>((resolve, reject) => socket.write(bytes, (error) => (error ? reject(error) : resolve())));
    socket.end();
    expect((await answerOn(socket)).status).toBe(status);
  });

  it.skipIf(!HAS_CURL).each([[], ['--header', 'Transfer-Encoding: chunked'], ['--header', 'Expect:']])(
    'is answered so that curl %s %s shows the answer',
    async (...options) => {
      const type = `Content-Type: ${headers['content-type']}`;
      const args = [
        '--silent',
        '--write-out',
        '\n%{http_code}',
        ...options,
        '--header',
        type,
        '--data-binary',
        `@${file}`,
      ];
      const { stdout } = await promisify(execFile)('curl', [...args, `${server().url}/v1/audits`]);
      const [text = '', code] = stdout.split('\n');
      expect([JSON.parse(text).status, Number(code)]).toEqual([status, status]);
    },
  );

  it('leaves a service that serves on', async () => {
    expect((await fetch(`${server().url}/healthz`)).status).toBe(200);
  });
});

it('a client that neither sends what it announced nor closes is closed, though it asked to be kept', async () => {
  const accepted = once(usual.app.server, 'connection') as Promise<[Socket]>;
  const socket = connect({ host: '127.0.0.1', port: usual.port, allowHalfOpen: true });
  const [peer] = await accepted;
  const begun = performance.now();
  socket.write(head({ 'content-type': 'text/plain', 'content-length': 1000, connection: 'keep-alive' }));
  const [answer] = await once(socket, 'data');
  if (!peer.closed) await new Promise((resolve) => peer.once('close', resolve));
  expect(performance.now() - begun).toBeLessThan(CLOSED_WITHIN_MS);
  expect([String(answer).slice(0, 12), socket.writable]).toEqual(['HTTP/1.1 415', true]);
  socket.destroy();
});

/** A body in one chunk. */
function chunk(body: Buffer): Buffer {
  return Buffer.concat([Buffer.from(`${body.length.toString(16)}\r\n`), body, Buffer.from('\r\n0\r\n\r\n')]);
}

describe('an upload of 64 MiB to where there is none', () => {
  it.each([
    ['POST', '/v1/audit', 404],
    ['PUT', '/v1/audits', 405],
    ['POST', '/healthz', 405],
  ])('%s %s is answered before it is sent', async (method, path, status) => {
    const socket = await open(usual.port);
    socket.write(head({ ...ZIP, 'transfer-encoding': 'chunked', connection: 'keep-alive' }, path, method));
    const answer = await answerOn(socket);
    expect([answer.status, answer.headers.get('connection')]).toEqual([status, 'close']);
  });
});

describe('a form that goes on and on', () => {
  it.each([
    ['before its first boundary', ''],
    ['after its last boundary', form([{ name: 'archive', filename: 'a', data: 'abc' }])],
  ])('%s is answered with 413', async (_where, start) => {
    const socket = await open(small.port);
    socket.write(head({ ...FORM, 'transfer-encoding': 'chunked', connection: 'keep-alive' }));
    socket.pause();
    const bytes = chunk(Buffer.concat([Buffer.from(start), LARGE]));
    await new Promise<void>((resolve, reject) => socket.write(bytes, (error) => (error ? reject(error) : resolve())));
    socket.end();
    const answer = await answerOn(socket);
    expect([answer.status, JSON.parse(answer.body).type]).toEqual([413, 'urn:linebudget:problem:limit-exceeded']);
  });
});
