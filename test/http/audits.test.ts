import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { EVENT_STREAM } from '../../src/http/events.js';
import { FORMATS } from '../../src/report/format/index.js';
import { formatJson } from '../../src/report/format/json.js';
import { formatText } from '../../src/report/format/text.js';
import { EN } from '../../src/words/en/words.js';
import { fixtureArchive } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';
import { exchange, FORM, form, head, type Server, startServer, upload, ZIP } from '../support/server.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
let server: Server;

beforeAll(async () => {
  server = await startServer();
});

afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true });
});

describe.each(['house', 'repeaters', 'school', 'twin-new', 'twin-old'])('the audit of %s', (fixture) => {
  it.each([
    ['application/json', 'json', formatJson],
    ['text/plain', 'text', formatText],
  ])('as %s has the same bytes raw, in a form, on the command line and in the code', async (type, name, format) => {
    const archive = await fixtureArchive(fixture);
    const expected = format(await audit(archive));
    const body = form([{ name: 'archive', filename: 'whatever.txt', data: archive }]);
    const answers = [
      await upload(server.url, archive, { ...ZIP, accept: type }),
      await upload(server.url, archive, { 'content-type': 'application/octet-stream', accept: type }),
      await upload(server.url, body, { ...FORM, accept: type }),
    ];
    for (const answer of answers) {
      expect(answer.status).toBe(200);
      expect(answer.headers.get('content-type')).toBe(`${type}; charset=utf-8`);
      expect(await answer.text()).toBe(expected);
    }
    const file = join(folder, `${fixture}.${name}.bin`);
    writeFileSync(file, archive);
    const { stdout, stderr } = await linebudget('audit', '--format', name, file);
    expect(stdout, stderr).toBe(expected);
  });
});

describe('Accept', () => {
  const JSON_TYPE = 'application/json; charset=utf-8';
  const TEXT_TYPE = 'text/plain; charset=utf-8';

  it.each([
    ['*/*', JSON_TYPE],
    ['application/*', JSON_TYPE],
    ['text/*', TEXT_TYPE],
    ['text/plain', TEXT_TYPE],
    ['TEXT/Plain', TEXT_TYPE],
    ['text/plain; charset=utf-8', TEXT_TYPE],
    ['application/json;charset=UTF-8', JSON_TYPE],
    ['text/plain;q=0.1, application/json;q=0.9', JSON_TYPE],
    ['text/plain;q=0.9, application/json;q=0.1', TEXT_TYPE],
    ['application/json;q=0, */*;q=0.1', TEXT_TYPE],
    ['application/pdf, text/plain;q=0.5', TEXT_TYPE],
    ['application/pdf, */*;q=0.1', JSON_TYPE],
  ])('%s is answered as %s', async (accept, type) => {
    const answer = await upload(server.url, await fixtureArchive('house'), { ...ZIP, accept });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, type]);
    const body = await answer.text();
    expect(body.startsWith(type === JSON_TYPE ? '{\n' : 'linebudget ')).toBe(true);
  });

  it.each([
    ['text/html'],
    // As browsers ask for a page (WHATWG Fetch, "Fetching", for documents).
    ['text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8'],
  ])('%s is answered with the page, which may do what it says of itself', async (accept) => {
    const answer = await upload(server.url, await fixtureArchive('house'), { ...ZIP, accept });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8']);
    const own = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(await answer.text())?.[1];
    const allowed = own?.replaceAll('&#39;', "'");
    expect(allowed).toMatch(/^default-src 'none'; style-src 'sha256-/);
    expect(answer.headers.get('content-security-policy')).toBe(
      `${allowed}; frame-ancestors 'none'; sandbox allow-scripts`,
    );
  });

  it('left out is answered as JSON', async () => {
    const archive = await fixtureArchive('house');
    const answer = await exchange(server.port, head({ ...ZIP, 'content-length': archive.length }), archive);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, JSON_TYPE]);
  });

  it.each([
    'application/xhtml+xml',
    'application/pdf, image/*',
    'application/json;q=0',
    'text/plain; charset=latin1',
    'nonsense',
  ])('%s is answered with 406 and what there is', async (accept) => {
    const answer = await upload(server.url, await fixtureArchive('house'), { ...ZIP, accept });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      406,
      'application/problem+json; charset=utf-8',
    ]);
    const problem = (await answer.json()) as { type: string; detail: string };
    expect(problem.type).toBe('urn:linebudget:problem:not-acceptable');
    const offered = new Set<string>(Object.values(FORMATS).map(({ mediaType }) => mediaType)).add(EVENT_STREAM);
    expect(problem.detail).toBe(`the answer comes as ${[...offered].join(', ')}`);
  });
});

describe('the type of the body', () => {
  it.each(['APPLICATION/ZIP', 'application/zip; charset=binary', 'application/octet-stream;x="y"'])(
    '%s is read as the archive itself',
    async (type) => {
      const answer = await upload(server.url, await fixtureArchive('house'), { 'content-type': type });
      expect(answer.status).toBe(200);
    },
  );
});

describe('an address', () => {
  it.each([
    ['GET', '/v1/rules/no-such-rule', 'rule-not-known'],
    ['GET', '/v1/rules/__proto__', 'rule-not-known'],
    ['GET', '/v1/schemas/finding', 'schema-not-known'],
    ['GET', '/v1/schemas/constructor', 'schema-not-known'],
    ['GET', '/v2/audits', 'not-found'],
    ['POST', '/v1/audit', 'not-found'],
    ['DELETE', '/v1/rules/', 'not-found'],
    ['GET', '/v1/rules/none/of/them', 'not-found'],
  ])('%s %s is answered with 404 and %s', async (method, path, code) => {
    const answer = await fetch(`${server.url}${path}`, { method, ...(method === 'POST' ? { body: 'abc' } : {}) });
    expect(answer.status).toBe(404);
    expect(await answer.json()).toMatchObject({ type: `urn:linebudget:problem:${code}` });
  });

  it.each([
    ['GET', '/v1/audits', 'POST'],
    ['PUT', '/v1/audits?a=b', 'POST'],
    ['DELETE', '/v1/rules', 'GET, HEAD'],
    ['PUT', '/v1/rules/low-headroom', 'GET, HEAD'],
    ['OPTIONS', '/openapi.yaml', 'GET, HEAD'],
    ['POST', '/healthz', 'GET, HEAD'],
  ])('%s %s is answered with 405 and what there is', async (method, path, allowed) => {
    const answer = await fetch(`${server.url}${path}`, { method, ...(method === 'POST' ? { body: 'abc' } : {}) });
    expect([answer.status, answer.headers.get('allow')]).toEqual([405, allowed]);
    expect(await answer.json()).toEqual({
      type: 'urn:linebudget:problem:method-not-allowed',
      ...EN.problems['method-not-allowed'],
      status: 405,
      detail: `there is no ${method} here, only ${allowed}`,
    });
  });

  it.each([
    '/healthz',
    '/readyz',
    '/v1/rules',
    '/v1/rules/low-headroom',
    '/v1/limits',
    '/v1/schemas/report',
    '/openapi.yaml',
  ])('HEAD %s is answered as GET, without the body', async (path) => {
    const [head, full] = [await fetch(`${server.url}${path}`, { method: 'HEAD' }), await get(path)];
    const named = ({ status, headers }: Response) => [
      status,
      headers.get('content-type'),
      headers.get('content-length'),
    ];
    expect(named(head)).toEqual(named(full));
    expect(await head.text()).toBe('');
  });

  it.each([
    ['that cannot be decoded', '/v1/rules/%zz'],
    ['longer than any rule’s', `/v1/rules/${'x'.repeat(5000)}`],
  ])('%s is answered with 400', async (_what, path) => {
    const answer = await fetch(`${server.url}${path}`);
    expect(answer.status).toBe(400);
    expect(answer.headers.get('request-id')).toMatch(/^[0-9a-f-]{36}$/);
    expect(await answer.json()).toMatchObject({ type: 'urn:linebudget:problem:malformed-request', status: 400 });
  });
});

describe('every answer', () => {
  it('has an id of its own, and is not to be stored', async () => {
    const archive = await fixtureArchive('house');
    const answers = [
      ...(await Promise.all(['/healthz', '/readyz', '/v1/rules', '/nowhere', '/v1/rules/%zz'].map(get))),
      ...(await Promise.all([upload(server.url, archive), upload(server.url, archive), upload(server.url, 'abc')])),
      await exchange(server.port, 'HELLO\r\n\r\n'),
      await exchange(server.port, head({ 'x-long': 'y'.repeat(20_000) })),
    ];
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200, 404, 400, 200, 200, 415, 400, 431]);
    for (const { headers } of answers) expect(headers.get('cache-control')).toBe('no-store');
    const ids = answers.map(({ headers }) => headers.get('request-id'));
    for (const id of ids) expect(id).toMatch(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
    expect(new Set(ids).size).toBe(answers.length);
  });

  it('takes no id from the request', async () => {
    const answer = await fetch(`${server.url}/healthz`, { headers: { 'request-id': 'mine' } });
    expect(answer.headers.get('request-id')).not.toBe('mine');
  });
});

function get(path: string): Promise<Response> {
  return fetch(`${server.url}${path}`);
}
