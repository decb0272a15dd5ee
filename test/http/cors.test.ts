import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { type Server, startServer, upload, ZIP } from '../support/server.js';

/** What a browser asks and needs by the Fetch standard, section "CORS protocol". */
const PORTAL = 'https://portal.example';
let server: Server;
let closed: Server;

beforeAll(async () => {
  const access = byToken({ allowedOrigins: [PORTAL, 'http://localhost:3000'], rateLimit: { requestsPerMinute: 1000 } });
  server = await startServer({ access });
  closed = await startServer({ access: byToken() });
});

afterAll(async () => {
  await server.stop();
  await closed.stop();
});

function preflight(origin: string, { url } = server): Promise<Response> {
  const asked = {
    'access-control-request-method': 'POST',
    'access-control-request-headers': 'authorization,content-type',
  };
  return fetch(`${url}/v1/audits`, { method: 'OPTIONS', headers: { origin, ...asked } });
}

const granted = ({ headers }: Response) => [...headers.keys()].filter((name) => name.startsWith('access-control-'));
const varies = ({ headers }: Response) => headers.get('vary')?.split(/, */) ?? [];

describe('a page of an origin that is listed', () => {
  it.each([PORTAL, 'http://localhost:3000'])('%s may ask for audits with a token', async (origin) => {
    const answer = await preflight(origin);
    expect([answer.status, await answer.text()]).toEqual([204, '']);
    expect(answer.headers.get('access-control-allow-origin')).toBe(origin);
    expect(answer.headers.get('access-control-allow-methods')).toBe('GET, HEAD, POST');
    expect(answer.headers.get('access-control-allow-headers')).toBe('Authorization, Content-Type');
    expect(answer.headers.get('access-control-max-age')).toBe('600');
    expect(varies(answer)).toContain('Origin');
  });

  it('may read answers, refusals among them', async () => {
    const answers = [
      await fetch(`${server.url}/v1/rules`, { headers: { origin: PORTAL, ...bearer(TOKEN.auditor) } }),
      await fetch(`${server.url}/v1/rules`, { headers: { origin: PORTAL } }),
      await fetch(`${server.url}/metrics`, { headers: { origin: PORTAL, ...bearer(TOKEN.auditor) } }),
      await upload(server.url, 'no archive', { ...ZIP, origin: PORTAL, ...bearer(TOKEN.auditor) }),
      await fetch(`${server.url}/none`, { headers: { origin: PORTAL, ...bearer(TOKEN.auditor) } }),
    ];
    expect(answers.map(({ status }) => status)).toEqual([200, 401, 403, 415, 404]);
    for (const answer of answers) {
      expect(answer.headers.get('access-control-allow-origin')).toBe(PORTAL);
      expect(answer.headers.get('access-control-expose-headers')).toBe('request-id, retry-after, www-authenticate');
      expect(answer.headers.get('cross-origin-resource-policy')).toBe('cross-origin');
      expect(answer.headers.has('access-control-allow-credentials')).toBe(false);
      expect(varies(answer)).toContain('Origin');
    }
  });
});

describe('a page of any other origin', () => {
  it.each([
    'https://portal.example.net',
    'http://portal.example',
    'https://portal.example:8443',
    'https://PORTAL.example',
    'https://sub.portal.example',
    'null',
    '*',
  ])('%s is allowed nothing', async (origin) => {
    const asked = await preflight(origin);
    const answer = await fetch(`${server.url}/v1/rules`, { headers: { origin, ...bearer(TOKEN.auditor) } });
    expect([asked.status, answer.status]).toEqual([401, 200]);
    expect([...granted(asked), ...granted(answer)]).toEqual([]);
    expect(answer.headers.get('cross-origin-resource-policy')).toBe('same-origin');
    expect(varies(answer)).toContain('Origin');
  });

  it('is allowed nothing where none is listed', async () => {
    const answer = await fetch(`${closed.url}/healthz`, { headers: { origin: PORTAL } });
    expect([...granted(await preflight(PORTAL, closed)), ...granted(answer)]).toEqual([]);
  });
});

it('a client that is no page is answered as ever', async () => {
  const answer = await fetch(`${server.url}/healthz`);
  expect(answer.status).toBe(200);
  expect(answer.headers.has('access-control-allow-origin')).toBe(false);
  expect(varies(answer)).toContain('Origin');
});

it('OPTIONS of no listed origin is answered as any other method', async () => {
  const headers = { origin: 'https://other.example', ...bearer(TOKEN.auditor) };
  for (const [path, status, allow] of [
    ['/v1/audits', 405, 'POST'],
    ['/canary/one?two', 404, null],
  ] as const) {
    const answer = await fetch(`${server.url}${path}`, { method: 'OPTIONS', headers });
    expect([answer.status, answer.headers.get('allow')]).toEqual([status, allow]);
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
    expect(await answer.text()).not.toContain('canary');
  }
});
