import { once } from 'node:events';
import { Agent, type ClientRequest, request } from 'node:http';
import type { Socket } from 'node:net';
import { text } from 'node:stream/consumers';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { formatJson } from '../../src/report/format/json.js';
import { EN } from '../../src/words/en/words.js';
import { fixtureArchive } from '../support/archives.js';
import { heavyArchive } from '../support/heavy.js';
import { ended, start } from '../support/linebudget.js';
import { answerOn, head, open, reportOf, startServer, stubRunner, upload, ZIP } from '../support/server.js';

let archive: Buffer;
let report: string;

beforeAll(async () => {
  archive = await fixtureArchive('school');
  report = formatJson(await audit(archive));
});

/** The service as a process of its own. */
class Service {
  readonly #child: ReturnType<typeof start>;
  readonly end: ReturnType<typeof ended>;
  #log = '';

  constructor(limits: Readonly<Record<string, number>> = {}) {
    const options = Object.entries(limits).flatMap(([name, value]) => ['--limit', `${name}=${value}`]);
    this.#child = start('serve', '--port', '0', ...options);
    this.end = ended(this.#child);
    this.#child.stderr.on('data', (chunk) => {
      this.#log += chunk;
    });
  }

  /** What the log says, once it says something like that. */
  async says(pattern: RegExp): Promise<RegExpExecArray> {
    for (;;) {
      const found = pattern.exec(this.#log);
      if (found !== null) return found;
      await once(this.#child.stderr, 'data');
    }
  }

  async port(): Promise<number> {
    return Number((await this.says(/listening at http:\/\/127\.0\.0\.1:(\d+)/))[1]);
  }

  signal(name: NodeJS.Signals): void {
    this.#child.kill(name);
  }
}

describe('the service, told to stop', () => {
  let service: Service;

  beforeEach(() => {
    service = new Service();
  });

  afterEach(() => service.signal('SIGKILL'));

  it.each(['SIGTERM', 'SIGINT'] as const)('by %s with nothing to do, ends well', async (signal) => {
    await service.port();
    service.signal(signal);
    expect(await service.end).toEqual({ code: 0, signal: null });
  });

  it('in the middle of an upload, finishes it, takes no new connection and ends well', async () => {
    const port = await service.port();
    const post = await beginUpload(port);
    post.write(archive.subarray(0, 1000));
    service.signal('SIGTERM');
    await service.says(/stopping/);
    await refusesConnections(port);
    post.end(archive.subarray(1000));
    const [answer] = await once(post, 'response');
    expect(answer.statusCode).toBe(200);
    expect(await text(answer)).toBe(report);
    expect(answer.headers.connection).toBe('close');
    expect(await service.end).toEqual({ code: 0, signal: null });
  });

  it('among many audits, answers all that it has taken', async () => {
    const port = await service.port();
    const posts = await Promise.all(Array.from({ length: 6 }, () => beginUpload(port)));
    const answers = posts.map(async (post) => {
      const [answer] = await once(post.end(archive), 'response');
      return [answer.statusCode, await text(answer)];
    });
    service.signal('SIGTERM');
    for (const answer of await Promise.all(answers)) expect(answer).toEqual([200, report]);
    expect(await service.end).toEqual({ code: 0, signal: null });
  });
});

describe('the service, told to stop while it is loaded', () => {
  let service: Service;
  afterEach(() => service.signal('SIGKILL'));

  it('answers what runs, what waits and what still arrives', async () => {
    service = new Service({ auditThreads: 1 });
    const port = await service.port();
    const heavy = await heavyArchive(20_000);
    const taken = [upload(`http://127.0.0.1:${port}`, heavy), upload(`http://127.0.0.1:${port}`, archive)];
    await service.says(/(incoming request.*){2}/s);
    const arriving = await beginUpload(port);
    arriving.write(archive.subarray(0, 1000));
    service.signal('SIGTERM');
    await service.says(/stopping/);
    arriving.end(archive.subarray(1000));
    const [answer] = await once(arriving, 'response');
    expect([answer.statusCode, await text(answer)]).toEqual([200, report]);
    const answers = await Promise.all(taken);
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    const [large = '', small] = await Promise.all(answers.map((one) => one.text()));
    expect(JSON.parse(large).summary.devicesPlaced).toBe(20_000);
    expect(small).toBe(report);
    expect(await service.end).toEqual({ code: 0, signal: null });
  });

  it('ends with 3 after stopSeconds where an audit takes longer', async () => {
    service = new Service({ auditThreads: 1, stopSeconds: 1, auditMemoryMib: 8192, elementsRead: 16_000_000 });
    const port = await service.port();
    const lost = upload(`http://127.0.0.1:${port}`, await heavyArchive(400_000)).catch(() => 'lost');
    await service.says(/incoming request/);
    service.signal('SIGTERM');
    expect(await service.end).toEqual({ code: 3, signal: null });
    await service.says(/requests in flight did not finish in time/);
    expect(await lost).toBe('lost');
  });

  it('ends with 3 after stopSeconds where an upload does not come to its end', async () => {
    service = new Service({ stopSeconds: 1 });
    const post = await beginUpload(await service.port());
    const lost = once(post, 'error');
    post.write('abc');
    service.signal('SIGTERM');
    expect(await service.end).toEqual({ code: 3, signal: null });
    await lost;
  });
});

/** An upload of which the service has the head, on a connection that is to be kept. */
async function beginUpload(port: number): Promise<ClientRequest> {
  const agent = new Agent({ keepAlive: true });
  const headers = { ...ZIP, 'content-length': archive.length, expect: '100-continue' };
  const post = request({ host: '127.0.0.1', port, path: '/v1/audits', method: 'POST', agent, headers });
  post.flushHeaders();
  await once(post, 'continue');
  return post;
}

/** Comes to its end only when a new connection is refused. */
async function refusesConnections(port: number): Promise<void> {
  for (;;) {
    try {
      (await open(port)).destroy();
    } catch (error) {
      // One that was accepted just before may be reset; only a refusal says that nobody listens any more.
      if ((error as NodeJS.ErrnoException).code === 'ECONNREFUSED') return;
    }
  }
}

describe('while the service stops', () => {
  /** A service with one audit in flight; the socket is a second connection, on which `sent` has arrived. */
  async function stoppingService(sent: string) {
    let finish = () => {};
    const gate = new Promise<void>((resolve) => {
      finish = resolve;
    });
    const server = await startServer({
      audits: stubRunner(async () => {
        await gate;
        return reportOf('{}');
      }),
    });
    const inFlight = upload(server.url, 'abc');
    await once(server.app.server, 'request');
    const accepted = once(server.app.server, 'connection') as Promise<[Socket]>;
    const socket = await open(server.port);
    socket.write(sent);
    const [peer] = await accepted;
    while (peer.bytesRead < sent.length) await new Promise(setImmediate);
    const stopped = server.stop();
    return { socket, finish, stopped, inFlight };
  }

  it.each([
    ['GET', '/readyz', ''],
    ['POST', '/v1/audits', 'abc'],
  ])('%s %s is answered with 503 and when to try again', async (method, path, body) => {
    const first = head({ connection: 'keep-alive' }, '/healthz', 'GET');
    const second = head({ ...ZIP, 'content-length': body.length, connection: 'keep-alive' }, path, method);
    const { socket, finish, stopped, inFlight } = await stoppingService(first + second.slice(0, -2));
    socket.write(second.slice(-2) + body);
    const answer = await answerOn(socket);
    const [, last = ''] = answer.body.split('{"status":"alive"}');
    expect(last).toMatch(/^HTTP\/1\.1 503 /);
    expect(last).toMatch(/^retry-after: 5\r$/m);
    expect(last).toMatch(/^request-id: [0-9a-f-]{36}\r$/m);
    expect(last).toMatch(/^connection: close\r$/im);
    expect(JSON.parse(last.split('\r\n\r\n')[1] ?? '')).toEqual({
      type: 'urn:linebudget:problem:stopping',
      ...EN.problems.stopping,
      status: 503,
      detail: 'the service is stopping and takes no new work',
    });
    finish();
    expect((await inFlight).status).toBe(200);
    await stopped;
  });

  it('GET /healthz is answered, as the process is alive', async () => {
    const first = head({ connection: 'keep-alive' }, '/healthz', 'GET');
    const { socket, finish, stopped, inFlight } = await stoppingService(first + first.slice(0, -2));
    socket.write(first.slice(-2));
    expect((await answerOn(socket)).body.match(/"alive"/g)).toHaveLength(2);
    finish();
    await Promise.all([inFlight, stopped]);
  });

  it('a connection that never sent a request does not hold it up', async () => {
    const { socket, finish, stopped, inFlight } = await stoppingService('');
    await once(socket.resume(), 'close');
    finish();
    await Promise.all([inFlight, stopped]);
  });
});
