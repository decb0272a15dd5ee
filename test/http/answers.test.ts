import { once } from 'node:events';
import { readdirSync, readFileSync } from 'node:fs';
import type { Socket } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { INPUT_FAULTS } from '../../src/errors.js';
import type { DocumentName } from '../../src/given.js';
import type { AuditRunner } from '../../src/http/pool.js';
import { REQUEST_FAULTS, RequestError } from '../../src/http/problems.js';
import { COMPARISON_FORMAT_NAMES } from '../../src/report/compare/formats.js';
import { FORMAT_NAMES } from '../../src/report/format/index.js';
import { RULES } from '../../src/rules/index.js';
import { EN } from '../../src/words/en/words.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { FIXTURES, fixtureArchive } from '../support/archives.js';
import { BAD_ARCHIVES } from '../support/bad-archives.js';
import { checkOf, objections } from '../support/openapi.js';
import {
  answerOn,
  compared,
  exchange,
  FORM,
  filesForm,
  form,
  head,
  open,
  planned,
  poolOf,
  type RawAnswer,
  type Server,
  shared,
  startServer,
  stubRunner,
  untilReady,
  upload,
  whatIfOf,
  YAML,
  ZIP,
} from '../support/server.js';

/** Live answers, held against the document. */
const pool = poolOf({ auditThreads: 1 });
let server: Server;

beforeAll(async () => {
  await untilReady(pool);
  server = await startServer({ audits: shared(pool) });
});

afterAll(async () => {
  await server.stop();
  await pool.close();
});

async function read(response: Response | Promise<Response>): Promise<RawAnswer> {
  const { status, headers } = await response;
  return { status, headers, body: await (await response).text() };
}

const get = (path: string) => read(fetch(`${server.url}${path}`));

describe('every route answers as documented', () => {
  it.each([
    ['/v1/rules', '/v1/rules'],
    ...RULES.map(({ id }) => ['/v1/rules/{id}', `/v1/rules/${id}`]),
    ['/v1/limits', '/v1/limits'],
    ...['report', 'comparison', 'policy', 'waivers', 'site', 'plan', 'changes'].map((name) => [
      '/v1/schemas/{name}',
      `/v1/schemas/${name}`,
    ]),
    ['/healthz', '/healthz'],
    ['/readyz', '/readyz'],
    ['/openapi.yaml', '/openapi.yaml'],
    ['/metrics', '/metrics'],
  ] as [string, string][])('GET %s at %s', async (path, address) => {
    const answer = await get(address);
    expect(answer.status).toBe(200);
    expect(objections(path, 'get', answer)).toEqual([]);
  });

  it('GET /v1/rules/{id} is the entry of the list', async () => {
    const { rules } = JSON.parse((await get('/v1/rules')).body) as { rules: { id: string }[] };
    expect(rules.map(({ id }) => id)).toEqual(RULES.map(({ id }) => id));
    for (const rule of rules) expect(JSON.parse((await get(`/v1/rules/${rule.id}`)).body)).toEqual(rule);
  });

  it.each(FORMAT_NAMES)('POST /v1/audits?format=%s', async (format) => {
    const answer = await read(upload(server.url, await fixtureArchive('school'), ZIP, `?format=${format}`));
    expect(answer.status).toBe(200);
    expect(objections('/v1/audits', 'post', answer)).toEqual([]);
  });

  it.each(FORMAT_NAMES)('POST /v1/plans?format=%s', async (format) => {
    const answer = await read(planned(server.url, PLAN, YAML, `?format=${format}`));
    expect(answer.status).toBe(200);
    expect(objections('/v1/plans', 'post', answer)).toEqual([]);
  });

  it.each(COMPARISON_FORMAT_NAMES)('POST /v1/comparisons?format=%s', async (format) => {
    const files = { old: await fixtureArchive('twin-old'), new: await fixtureArchive('twin-new') };
    const answer = await read(compared(server.url, filesForm(files), FORM, `?format=${format}`));
    expect(answer.status).toBe(200);
    expect(objections('/v1/comparisons', 'post', answer)).toEqual([]);
  });

  it.each(COMPARISON_FORMAT_NAMES)('POST /v1/what-ifs?format=%s', async (format) => {
    const changes = readFileSync(join(FIXTURES, 'example-changes.yaml'));
    const body = filesForm({ archive: await fixtureArchive('school'), changes });
    const answer = await read(whatIfOf(server.url, body, FORM, `?format=${format}`));
    expect(answer.status, answer.body).toBe(200);
    expect(objections('/v1/what-ifs', 'post', answer)).toEqual([]);
  });

  it('POST /v1/comparisons is of the schema that is served, and not with a word more', async () => {
    const check = checkOf(JSON.parse((await get('/v1/schemas/comparison')).body));
    const files = { old: await fixtureArchive('school'), new: await fixtureArchive('house') };
    const answer = await read(compared(server.url, filesForm(files)));
    const comparison = JSON.parse(answer.body);
    expect(check(comparison)).toEqual([]);
    expect(check({ ...comparison, more: 1 })).not.toEqual([]);
    const body = JSON.stringify({ ...comparison, segmentsUnchanged: '3' });
    expect(objections('/v1/comparisons', 'post', { ...answer, body })).not.toEqual([]);
  });
});

describe('the report', () => {
  const fixtures = readdirSync(FIXTURES, { withFileTypes: true }).filter((entry) => entry.isDirectory());

  it.each(fixtures.map(({ name }) => name))('of %s is of the schema that is served', async (name) => {
    const check = checkOf(JSON.parse((await get('/v1/schemas/report')).body));
    const answer = await read(upload(server.url, await fixtureArchive(name)));
    const report = JSON.parse(answer.body);
    expect(check(report)).toEqual([]);
    expect(objections('/v1/audits', 'post', answer)).toEqual([]);
  });

  it('would not pass with a word more, a word less or a figure as text', async () => {
    const check = checkOf(JSON.parse((await get('/v1/schemas/report')).body));
    const answer = await read(upload(server.url, await fixtureArchive('house')));
    const spoilt: ((report: Record<string, unknown>) => unknown)[] = [
      (report) => ({ ...report, more: 1 }),
      ({ caution: _, ...report }) => report,
      (report) => ({ ...report, reportVersion: '1' }),
      (report) => ({ ...report, segments: [{}] }),
    ];
    for (const spoil of spoilt) {
      const report = spoil(JSON.parse(answer.body));
      expect(check(report)).not.toEqual([]);
      expect(objections('/v1/audits', 'post', { ...answer, body: JSON.stringify(report) })).not.toEqual([]);
    }
  });
});

interface Problem {
  readonly code: keyof typeof INPUT_FAULTS | keyof typeof REQUEST_FAULTS;
  readonly path?: string;
  readonly answer: () => Promise<RawAnswer>;
}

const uploaded = (body: Uint8Array | string, headers?: Record<string, string>) =>
  read(upload(server.url, body, headers));

/** The answer of a service whose audits end like this. */
async function answerBy(run: AuditRunner['run']): Promise<RawAnswer> {
  const own = await startServer({ audits: stubRunner(run) });
  const answer = await read(upload(own.url, 'abc'));
  await own.stop();
  return answer;
}

/** What a service is ready for whose threads do not come up. */
async function answerWhenStarting(): Promise<RawAnswer> {
  const audits = { ...stubRunner(() => Promise.reject(new Error('no audits here'))), isReady: () => false };
  const own = await startServer({ audits });
  const answer = await read(fetch(`${own.url}/readyz`));
  await own.stop();
  return answer;
}

/** What a request is answered whose last line comes when the service has been told to stop. */
async function answerWhenStopping(method: string, path: string): Promise<RawAnswer> {
  const own = await startServer({ audits: stubRunner(() => Promise.reject(new Error('no audits here'))) });
  const accepted = once(own.app.server, 'connection') as Promise<[Socket]>;
  const socket = await open(own.port);
  const [peer] = await accepted;
  const first = head({ connection: 'keep-alive' }, '/healthz', 'GET');
  const second = head({ ...ZIP, 'content-length': 0 }, path, method);
  socket.write(first + second.slice(0, -2));
  while (peer.bytesRead < first.length + second.length - 2) await new Promise(setImmediate);
  const stopped = own.stop();
  socket.write(second.slice(-2));
  const both = await answerOn(socket);
  await stopped;
  const [, last = ''] = both.body.split('{"status":"alive"}');
  const [lines = '', body = ''] = last.split('\r\n\r\n');
  const [status = '', ...headers] = lines.split('\r\n');
  const pairs = headers.map((line) => line.split(': ') as [string, string]);
  return { status: Number(status.split(' ')[1]), headers: new Headers(pairs), body };
}

/** What a connection is told when node gives up waiting for its request, which it does after two minutes. */
async function answerAfterTimeout(): Promise<RawAnswer> {
  const accepted = once(server.app.server, 'connection') as Promise<[Socket]>;
  const socket = await open(server.port);
  const [peer] = await accepted;
  const error = Object.assign(new Error('timeout'), { code: 'ERR_HTTP_REQUEST_TIMEOUT' });
  server.app.server.emit('clientError', error, peer);
  return answerOn(socket);
}

/** The answer of a service that lets two requests a minute in, to the last of some. */
async function guardedAnswer(...asks: readonly Record<string, string>[]): Promise<RawAnswer> {
  const own = await startServer({ access: byToken({ rateLimit: { requestsPerMinute: 2 } }) });
  const answers: RawAnswer[] = [];
  for (const headers of asks) answers.push(await read(upload(own.url, 'abc', { ...ZIP, ...headers })));
  await own.stop();
  return answers.at(-1) as RawAnswer;
}

/** The answer to an archive with a file beside it that cannot be used. */
async function answerWith(field: DocumentName): Promise<RawAnswer> {
  return uploaded(filesForm({ archive: await fixtureArchive('house'), [field]: '[' }), FORM);
}

/** The answer to changes that are none. */
async function answerToChanges(): Promise<RawAnswer> {
  return read(whatIfOf(server.url, filesForm({ archive: await fixtureArchive('house'), changes: '[' })));
}

const PLAN = readFileSync(join(FIXTURES, 'example-plan.yaml'), 'utf8');

const PROBLEMS: readonly Problem[] = [
  ...BAD_ARCHIVES.map(({ code, bytes }): Problem => ({ code, answer: async () => uploaded(await bytes()) })),
  { code: 'limit-exceeded', answer: () => exchange(server.port, head({ ...ZIP, 'content-length': 2 ** 40 })) },
  { code: 'malformed-request', answer: () => uploaded(form([]), FORM) },
  { code: 'invalid-policy', answer: () => answerWith('policy') },
  { code: 'invalid-product-list', answer: () => answerWith('products') },
  { code: 'invalid-waivers', answer: () => answerWith('waivers') },
  { code: 'invalid-baseline', answer: () => answerWith('baseline') },
  { code: 'invalid-site-sheet', answer: () => answerWith('site') },
  { code: 'invalid-measured-values', answer: () => answerWith('measured') },
  { code: 'invalid-plan', path: '/v1/plans', answer: () => read(planned(server.url, '[')) },
  { code: 'invalid-changes', path: '/v1/what-ifs', answer: answerToChanges },
  { code: 'malformed-request', path: '/v1/rules/{id}', answer: () => get('/v1/rules/%zz') },
  { code: 'malformed-request', path: '/healthz', answer: () => exchange(server.port, 'HELLO\r\n\r\n') },
  { code: 'token-missing', answer: () => guardedAnswer({}) },
  { code: 'token-not-valid', answer: () => guardedAnswer(bearer(TOKEN.stranger)) },
  { code: 'role-missing', answer: () => guardedAnswer(bearer(TOKEN.watcher)) },
  { code: 'too-many-requests', answer: () => guardedAnswer({}, {}, {}) },
  { code: 'rule-not-known', path: '/v1/rules/{id}', answer: () => get('/v1/rules/none') },
  { code: 'schema-not-known', path: '/v1/schemas/{name}', answer: () => get('/v1/schemas/none') },
  { code: 'not-found', path: '/v1/rules/{id}', answer: () => get('/v1/rules/none/of/them') },
  {
    code: 'method-not-allowed',
    path: '/healthz',
    answer: () => read(fetch(`${server.url}/healthz`, { method: 'DELETE' })),
  },
  { code: 'not-acceptable', answer: () => uploaded('abc', { ...ZIP, accept: 'image/png' }) },
  { code: 'unsupported-media-type', answer: () => uploaded('abc', { 'content-type': 'text/plain' }) },
  { code: 'expectation-failed', answer: () => exchange(server.port, head({ expect: 'a reply', 'content-length': 0 })) },
  { code: 'request-timeout', answer: answerAfterTimeout },
  { code: 'headers-too-large', answer: () => exchange(server.port, head({ 'x-long': 'y'.repeat(20_000) })) },
  { code: 'internal-fault', answer: () => answerBy(() => Promise.reject(new Error('a fault'))) },
  { code: 'busy', answer: () => answerBy(() => Promise.reject(new RequestError('busy', 'try again later'))) },
  { code: 'audit-too-long', answer: () => answerBy(() => Promise.reject(new RequestError('audit-too-long', 'a'))) },
  { code: 'audit-too-large', answer: () => answerBy(() => Promise.reject(new RequestError('audit-too-large', 'a'))) },
  { code: 'starting', path: '/readyz', answer: answerWhenStarting },
  { code: 'stopping', answer: () => answerWhenStopping('POST', '/v1/audits') },
  { code: 'stopping', path: '/readyz', answer: () => answerWhenStopping('GET', '/readyz') },
];

/** The addresses that take files. */
const WORKS = ['/v1/audits', '/v1/plans', '/v1/comparisons', '/v1/what-ifs'];

describe('every problem is answered as documented', () => {
  it.each(PROBLEMS)('$code', async ({ code, path = '/v1/audits', answer }) => {
    const found = await answer();
    const { status } = { ...INPUT_FAULTS, ...REQUEST_FAULTS }[code];
    expect(JSON.parse(found.body)).toMatchObject({
      type: `urn:linebudget:problem:${code}`,
      status,
      ...EN.problems[code],
    });
    expect(found.status).toBe(status);
    expect(objections(path, WORKS.includes(path) ? 'post' : 'get', found)).toEqual([]);
  });

  it('and there is no other', () => {
    const tried = new Set(PROBLEMS.map(({ code }) => code));
    expect([...tried].sort()).toEqual(Object.keys({ ...INPUT_FAULTS, ...REQUEST_FAULTS }).sort());
  });

  it('and not with a word more, nor under another status', async () => {
    const answer = await uploaded('abc');
    const problem = JSON.parse(answer.body);
    for (const wrong of [
      { ...problem, more: 1 },
      { ...problem, type: 'urn:linebudget:problem:busy' },
    ]) {
      expect(objections('/v1/audits', 'post', { ...answer, body: JSON.stringify(wrong) })).not.toEqual([]);
    }
    expect(objections('/v1/audits', 'post', { ...answer, status: 418 })).not.toEqual([]);
    expect(objections('/v1/audits', 'post', { ...answer, headers: new Headers() })).not.toEqual([]);
  });
});
