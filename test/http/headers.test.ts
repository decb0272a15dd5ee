import { afterAll, beforeAll, expect, it } from 'vitest';
import { byToken } from '../support/access.js';
import { exchange, head, type Server, startServer, ZIP } from '../support/server.js';

let server: Server;
let guarded: Server;

beforeAll(async () => {
  server = await startServer();
  guarded = await startServer({ access: byToken() });
});

afterAll(async () => {
  await server.stop();
  await guarded.stop();
});

const ask = (path: string, method = 'GET') => exchange(server.port, head({ 'content-length': 0 }, path, method));

// OWASP HTTP Headers Cheat Sheet and REST Security Cheat Sheet, "Security headers".
it.each([
  [200, 'a route', () => ask('/healthz')],
  [200, 'the head of a route', () => ask('/v1/rules', 'HEAD')],
  [404, 'an address of nothing', () => ask('/none')],
  [400, 'an address that cannot be decoded', () => ask('/%zz')],
  [415, 'an upload that is not read', () => ask('/v1/audits', 'POST')],
  [401, 'a refusal', () => exchange(guarded.port, head({ ...ZIP, 'content-length': 0 }))],
  [400, 'what is not HTTP', () => exchange(server.port, 'HELLO\r\n\r\n')],
  [405, 'a tunnel', () => exchange(server.port, head({}, 'a.example:443', 'CONNECT'))],
  [417, 'another expectation', () => exchange(server.port, head({ expect: 'pizza' }, '/healthz', 'GET'))],
  [431, 'headers too large', () => exchange(server.port, head({ 'x-long': 'y'.repeat(20_000) }))],
])('%d, %s, is safe in a browser and tells nothing of the server', async (status, _what, answer) => {
  const { headers, status: found } = await answer();
  expect(found).toBe(status);
  expect(Object.fromEntries(headers)).toMatchObject({
    'cache-control': 'no-store',
    'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
    'cross-origin-resource-policy': 'same-origin',
    'referrer-policy': 'no-referrer',
    'x-content-type-options': 'nosniff',
  });
  for (const name of ['server', 'x-powered-by', 'set-cookie']) expect(headers.has(name)).toBe(false);
});
