import { afterEach, describe, expect, it } from 'vitest';
import type { Access } from '../../src/http/access/access.js';
import { EVERYBODY } from '../../src/http/access/access.js';
import { EN } from '../../src/words/en/words.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { exchange, head, reportOf, type Server, startServer, stubRunner, upload, ZIP } from '../support/server.js';

let server: Server;

afterEach(() => server.stop());

/** A service that lets two requests a minute in. */
async function startLimited(access: Access): Promise<void> {
  const audits = stubRunner(async () => reportOf('{}'));
  server = await startServer({ audits, access: { ...access, rateLimit: { requestsPerMinute: 2 } } });
}

const get = (headers: Record<string, string> = {}) => fetch(`${server.url}/v1/rules`, { headers });

/** The statuses of requests, one after another. */
async function statuses(...asks: readonly (() => Promise<{ status: number }>)[]): Promise<number[]> {
  const found: number[] = [];
  for (const ask of asks) found.push((await ask()).status);
  return found;
}

const audit = (headers: Record<string, string> = {}) => upload(server.url, 'abc', { ...ZIP, ...headers });

describe('audits', () => {
  it('are counted by address, and one too many is told when to try again', async () => {
    await startLimited(EVERYBODY);
    expect(await statuses(audit, audit)).toEqual([200, 200]);
    const refused = await audit();
    expect(refused.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
    const seconds = Number(refused.headers.get('retry-after'));
    expect(seconds).toBeGreaterThan(0);
    expect(seconds).toBeLessThanOrEqual(60);
    expect(await refused.json()).toEqual({
      type: 'urn:linebudget:problem:too-many-requests',
      ...EN.problems['too-many-requests'],
      status: 429,
      detail: `2 audits a minute are let in from one client; try again in ${seconds} seconds`,
    });
  });

  it('are refused before any of the body is read, and nothing else is counted or refused', async () => {
    await startLimited(EVERYBODY);
    expect(await statuses(get, get, get, audit, audit)).toEqual([200, 200, 200, 200, 200]);
    expect((await exchange(server.port, head({ ...ZIP, 'content-length': 1000 }))).status).toBe(429);
    expect(await statuses(get, () => fetch(`${server.url}/healthz`))).toEqual([200, 200]);
  });

  it('are counted by token where there is one, wherever they come from', async () => {
    await startLimited(byToken({ trustProxy: ['127.0.0.1'] }));
    const by = (token: string, ip: string) => () => audit({ ...bearer(token), 'x-forwarded-for': ip });
    const one = [by(TOKEN.auditor, '192.0.2.1'), by(TOKEN.auditor, '192.0.2.2'), by(TOKEN.auditor, '192.0.2.3')];
    expect(await statuses(...one, by(TOKEN.both, '192.0.2.1'))).toEqual([200, 200, 429, 200]);
  });
});

describe('an address', () => {
  const from = (ip: string) => () => audit({ 'x-forwarded-for': ip });

  // RFC 6177: a site is given a /64 or more. Addresses of RFC 3849.
  it('of IPv6 counts with its /64', async () => {
    await startLimited({ ...EVERYBODY, trustProxy: ['127.0.0.1'] });
    const sent = [from('2001:db8::1'), from('2001:db8::2:3:4:5'), from('2001:DB8:0:0:ffff::'), from('2001:db8:0:1::1')];
    expect(await statuses(...sent)).toEqual([200, 200, 429, 200]);
  });

  it('of IPv4 counts by itself, also where it is written as IPv6', async () => {
    await startLimited({ ...EVERYBODY, trustProxy: ['127.0.0.0/8'] });
    const sent = [from('192.0.2.1'), from('::ffff:192.0.2.1'), from('192.0.2.1'), from('192.0.2.2')];
    expect(await statuses(...sent)).toEqual([200, 200, 429, 200]);
  });

  it('is not taken from whom it pleases to say another', async () => {
    await startLimited(EVERYBODY);
    expect(await statuses(from('192.0.2.1'), from('192.0.2.2'), from('192.0.2.3'))).toEqual([200, 200, 429]);
  });
});

describe('requests without a valid token', () => {
  it('are counted by address, and one too many has no token looked at for a while', async () => {
    await startLimited(byToken({ trustProxy: ['127.0.0.1'] }));
    const ask = (ip: string, token?: string) => () =>
      get({ ...(token === undefined ? {} : bearer(token)), 'x-forwarded-for': ip });
    const guesses = [ask('192.0.2.1', TOKEN.stranger), ask('192.0.2.1'), ask('192.0.2.1', TOKEN.stranger)];
    expect(await statuses(...guesses)).toEqual([401, 401, 429]);
    expect(await statuses(ask('192.0.2.1', TOKEN.auditor), ask('192.0.2.2', TOKEN.auditor))).toEqual([429, 200]);
  });

  it('do not count as audits of anybody', async () => {
    await startLimited(byToken());
    const known = () => audit(bearer(TOKEN.auditor));
    expect(await statuses(audit, known, audit, known, known)).toEqual([401, 200, 401, 200, 429]);
  });

  it('leave healthz alone', async () => {
    await startLimited(byToken());
    expect(await statuses(get, get, get, () => fetch(`${server.url}/healthz`))).toEqual([401, 401, 429, 200]);
  });
});
