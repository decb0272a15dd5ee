import { createHash, randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { afterEach, describe, expect, it } from 'vitest';
import type { Limits } from '../../src/limits.js';
import {
  answerOn,
  exchange,
  FORM,
  form,
  head,
  open,
  reportOf,
  type Server,
  startServer,
  stubRunner,
  upload,
  ZIP,
} from '../support/server.js';

let server: Server;
afterEach(() => server.stop());

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

/** A service that answers with the SHA-256 of what arrives. */
async function serve(limits: Partial<Limits> = {}): Promise<void> {
  server = await startServer({
    audits: stubRunner(async ({ files }) => reportOf(sha256(files.archive ?? new Uint8Array()))),
    limits,
  });
}

describe.each([0, 1, 65_536, 65_537, 5_000_000])('an upload of %d bytes', (size) => {
  const bytes = randomBytes(size);
  const fields = form([{ name: 'archive', filename: 'a', data: bytes }]);
  const chunked = (body: Uint8Array) => new Blob([new Uint8Array(body)]).stream();

  it.each<[string, NonNullable<RequestInit['body']>, Record<string, string>]>([
    ['as a body', new Uint8Array(bytes), ZIP],
    ['as a body in chunks', chunked(bytes), ZIP],
    ['as a form', new Uint8Array(fields), FORM],
    ['as a form in chunks', chunked(fields), FORM],
  ])('%s arrives as it is', async (_how, body, headers) => {
    await serve();
    const init = { method: 'POST', body, headers, duplex: 'half' } as RequestInit;
    expect(await (await fetch(`${server.url}/v1/audits`, init)).text()).toBe(sha256(bytes));
  });
});

it('an upload is asked for where the client waits to be asked', async () => {
  await serve();
  const socket = await open(server.port);
  socket.write(head({ ...ZIP, 'content-length': 3, expect: '100-continue' }));
  const [first] = await once(socket, 'data');
  expect(String(first)).toBe('HTTP/1.1 100 Continue\r\n\r\n');
  socket.write('abc');
  const answer = await answerOn(socket);
  expect([answer.status, answer.body]).toEqual([200, sha256(Buffer.from('abc'))]);
});

describe('uploads that arrive at once', () => {
  const HUNDRED = { ...ZIP, 'content-length': 100 };

  it.each<[string, Partial<Limits>, Record<string, string | number>[]]>([
    [
      'uploadsHeld',
      { uploadsHeld: 2 },
      [
        { ...ZIP, 'content-length': 1 },
        { ...FORM, 'content-length': 1 },
      ],
    ],
    ['uploadBytesHeld', { uploadBytes: 100, uploadBytesHeld: 200 }, [HUNDRED, HUNDRED]],
    [
      'uploadBytesHeld, without a length',
      { uploadBytes: 100, uploadBytesHeld: 100 },
      [{ ...ZIP, 'transfer-encoding': 'chunked' }],
    ],
  ])(
    'are refused over %s before they are read, and taken again when those before are gone',
    async (_name, limits, held) => {
      await serve(limits);
      const sockets = await Promise.all(held.map(() => open(server.port)));
      for (const [index, headers] of held.entries()) {
        const arrived = once(server.app.server, 'request');
        sockets[index]?.write(head(headers));
        await arrived;
      }
      const refused = await exchange(server.port, head({ ...ZIP, 'content-length': 1, connection: 'keep-alive' }));
      expect([refused.status, refused.headers.get('connection'), refused.headers.get('retry-after')]).toEqual([
        503,
        'close',
        '5',
      ]);
      expect(JSON.parse(refused.body)).toMatchObject({
        type: 'urn:linebudget:problem:busy',
        detail:
          'as many uploads are held as may (the limits uploadsHeld and uploadBytesHeld); try again in a few seconds',
      });
      for (const socket of sockets) socket.destroy();
      while ((await upload(server.url, 'a')).status === 503);
      expect((await upload(server.url, 'a')).status).toBe(200);
    },
  );
});

it('connections over their limit are closed, and the others served on', async () => {
  await serve({ connections: 1 });
  const first = await open(server.port);
  const second = await open(server.port);
  await once(second.resume(), 'close');
  first.write(head({}, '/healthz', 'GET'));
  expect((await answerOn(first)).status).toBe(200);
});
