import { once } from 'node:events';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { fixtureArchive } from '../support/archives.js';
import { Log } from '../support/log.js';
import {
  answerOn,
  exchange,
  head,
  open,
  poolOf,
  type Server,
  startServer,
  untilReady,
  upload,
  ZIP,
} from '../support/server.js';

const log = new Log();
const pool = poolOf({ auditThreads: 1 });
let server: Server;

beforeAll(async () => {
  server = await startServer({ access: byToken(), logger: log.logger, audits: pool });
  await untilReady(pool);
});

afterAll(() => server.stop());

const get = (path: string, headers: Record<string, string> = {}) => fetch(`${server.url}${path}`, { headers });

async function told(answer: Response) {
  const { type, detail } = (await answer.json()) as { type: string; detail: string };
  const code = type.replace('urn:linebudget:problem:', '');
  return { status: answer.status, code, challenge: answer.headers.get('www-authenticate'), detail };
}

const MISSING = { status: 401, code: 'token-missing', challenge: 'Bearer' };
const NOT_VALID = { status: 401, code: 'token-not-valid', challenge: 'Bearer error="invalid_token"' };

describe('without a token', () => {
  it.each(['/v1/rules', '/v1/limits', '/openapi.yaml', '/metrics', '/v1/none', '/pages', '/healthz/more', '//healthz'])(
    '%s is refused, and how to be let in is said',
    async (path) => {
      const answer = await told(await get(path));
      expect(answer).toMatchObject(MISSING);
      expect(answer.detail).toContain('Authorization: Bearer TOKEN');
    },
  );

  it.each(['/healthz', '/readyz', '/', '/page/main.js'])('%s is answered', async (path) => {
    expect((await get(path)).status).toBe(200);
    expect((await fetch(`${server.url}${path}`, { method: 'HEAD' })).status).toBe(200);
  });

  it.each(['HEAD', 'OPTIONS', 'DELETE'])('%s is refused alike', async (method) => {
    expect((await fetch(`${server.url}/v1/rules`, { method })).status).toBe(401);
  });

  it('an upload is refused before any of it is read', async () => {
    const refusals = [
      await exchange(server.port, head({ ...ZIP, 'content-length': 1000 })),
      await exchange(server.port, head({ ...ZIP, 'content-length': 1000, ...bearer(TOKEN.stranger) })),
      await exchange(server.port, head({ ...ZIP, 'content-length': 1000, ...bearer(TOKEN.watcher) })),
    ];
    expect(refusals.map(({ status }) => status)).toEqual([401, 401, 403]);
  });
});

describe('a client that waits to be asked for its body (RFC 9110, section 10.1.1)', () => {
  const asking = (headers: Record<string, string>) =>
    head({ ...ZIP, ...headers, expect: '100-continue', 'content-length': 3 });

  it('is asked where it is let in, and answered', async () => {
    const socket = await open(server.port);
    socket.write(asking(bearer(TOKEN.auditor)));
    const [asked] = await once(socket, 'data');
    expect(String(asked)).toBe('HTTP/1.1 100 Continue\r\n\r\n');
    socket.write('abc');
    expect(await answerOn(socket)).toMatchObject({ status: 415 }); // as it is no archive
  });

  it.each([
    [401, {}],
    [403, bearer(TOKEN.watcher)],
    [415, { ...bearer(TOKEN.auditor), 'content-encoding': 'gzip' }],
  ])('is answered with %d where it is not, and not asked', async (status, headers) => {
    const answer = await exchange(server.port, asking(headers));
    expect([answer.status, answer.headers.get('connection')]).toEqual([status, 'close']);
  });
});

describe('a token that is not known', () => {
  it.each([
    ['of another service', `Bearer ${TOKEN.stranger}`],
    ['cut by a character', `Bearer ${TOKEN.auditor.slice(0, -1)}`],
    ['with a character more', `Bearer ${TOKEN.auditor}A`],
    ['twice', `Bearer ${TOKEN.auditor} ${TOKEN.auditor}`],
    ['after a comma', `Bearer x, Bearer ${TOKEN.auditor}`],
    ['without the scheme', TOKEN.auditor],
    ['of another scheme', `Basic ${Buffer.from(`auditor:${TOKEN.auditor}`).toString('base64')}`],
    ['that is empty', 'Bearer '],
    ['that is the hash in the configuration', `Bearer ${byToken().tokens[0]?.sha256}`],
  ])('%s is not let in', async (_what, authorization) => {
    expect(await told(await get('/v1/rules', { authorization }))).toMatchObject(NOT_VALID);
  });

  it('in the query is none', async () => {
    expect(await told(await get(`/v1/rules?access_token=${TOKEN.auditor}`))).toMatchObject(MISSING);
  });
});

describe('a token', () => {
  it.each(['Bearer', 'bearer', 'BEARER '])(
    'is read after "%s" (RFC 9110, section 11.1: in any case)',
    async (scheme) => {
      expect((await get('/v1/rules', { authorization: `${scheme} ${TOKEN.auditor}` })).status).toBe(200);
    },
  );

  it.each([
    ['auditor', [200, 200, 200, 403]],
    ['watcher', [403, 403, 403, 200]],
    ['both', [200, 200, 200, 200]],
  ] as const)('%s opens what its roles open', async (name, statuses) => {
    const paths = ['/v1/rules', '/v1/schemas/report', '/openapi.yaml', '/metrics'];
    const answers = await Promise.all(paths.map((path) => get(path, bearer(TOKEN[name]))));
    expect(answers.map(({ status }) => status)).toEqual(statuses);
  });

  it('without the role is told which', async () => {
    const answer = await told(await get('/metrics', bearer(TOKEN.auditor)));
    const challenge = 'Bearer error="insufficient_scope", scope="metrics"'; // RFC 6750, section 3.1
    expect(answer).toMatchObject({ status: 403, code: 'role-missing', challenge });
    expect(answer.detail).toContain('the token "auditor" has not the role "metrics"');
  });

  it('lets an upload in, and names it in the log without being in it', async () => {
    const answer = await upload(server.url, await fixtureArchive('house'), { ...ZIP, ...bearer(TOKEN.auditor) });
    expect(answer.status).toBe(200);
    const reqId = answer.headers.get('request-id');
    const done = log.entries.filter((entry) => entry.reqId === reqId && entry.msg === 'request completed');
    expect(done).toMatchObject([{ token: 'auditor' }]);
    for (const token of Object.values(TOKEN)) expect(log.text).not.toContain(token);
  });

  it('is told that there is nothing at an address where there is nothing', async () => {
    expect((await get('/v1/none', bearer(TOKEN.watcher))).status).toBe(404);
  });
});

it('where no token is configured none is needed, and one that is sent does not matter', async () => {
  const own = await startServer();
  for (const headers of [{}, bearer(TOKEN.stranger)]) {
    for (const path of ['/v1/rules', '/metrics', '/openapi.yaml']) {
      expect((await fetch(`${own.url}${path}`, { headers })).status).toBe(200);
    }
  }
  await own.stop();
});
