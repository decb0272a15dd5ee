import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { EVERYBODY } from '../../src/http/access/access.js';
import { STAGES } from '../../src/progress.js';
import { FORMAT_NAMES, FORMATS, type Format, isForPeople } from '../../src/report/format/index.js';
import { summaryLine } from '../../src/report/format/text.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { FIXTURES, fixtureArchive } from '../support/archives.js';
import { BAD_ARCHIVES } from '../support/bad-archives.js';
import { type EventsRead, eventsOf } from '../support/events.js';
import { Log } from '../support/log.js';
import { objections, objectionsToEvent } from '../support/openapi.js';
import {
  compared,
  FORM,
  filesForm,
  planned,
  poolOf,
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

const EVENTS = { accept: 'text/event-stream' };
const PLAN = readFileSync(join(FIXTURES, 'example-plan.yaml'), 'utf8');

const pool = poolOf({ auditThreads: 1 });
let server: Server;
let school: Buffer;

beforeAll(async () => {
  await untilReady(pool);
  server = await startServer({ audits: shared(pool) });
  school = await fixtureArchive('school');
});

afterAll(async () => {
  await server.stop();
  await pool.close();
});

const streamed = (archive: Uint8Array | string, query = '', headers: Record<string, string> = {}) =>
  upload(server.url, archive, { ...ZIP, ...EVENTS, ...headers }, query);

/** The progress of a stream, and how it ended. */
function parted({ events }: EventsRead) {
  const told = events.slice(0, -1).map(({ name, data }) => {
    expect(name).toBe('progress');
    return data as { stage: (typeof STAGES)[number]; share: number };
  });
  const last = events.at(-1);
  if (last === undefined) throw new Error('the stream holds nothing');
  return { told, last };
}

/** The bytes that the event of a report stands for. */
function bytesOf({ encoding, body }: Record<string, unknown>): Buffer {
  return Buffer.from(String(body), encoding === 'base64' ? 'base64' : 'utf8');
}

describe('the events of an audit', () => {
  it('tell of every stage in its order, with a share that grows to 1 at the report', async () => {
    const { told, last } = parted(await eventsOf(await streamed(school)));
    expect(last.name).toBe('report');
    expect([...new Set(told.map(({ stage }) => stage))]).toEqual(STAGES);
    const shares = told.map(({ share }) => share);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.filter((share) => share === 1)).toEqual([1]);
    expect([told[0], told.at(-1)]).toEqual([
      { stage: 'waiting', share: 0 },
      { stage: 'writing', share: 1 },
    ]);
    const different = new Set(told.map(({ stage, share }) => `${stage} ${share}`));
    expect(different.size).toBe(told.length);
  });

  it('are as documented', async () => {
    const answer = await streamed(school);
    const { status, headers } = answer;
    expect(headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
    expect(objections('/v1/audits', 'post', { status, headers, body: '' })).toEqual([]);
    const { events } = await eventsOf(answer);
    expect(events.flatMap(({ name, data }) => objectionsToEvent(String(name), data))).toEqual([]);
  });

  it('are not to be kept or gathered on their way', async () => {
    const { headers, body } = await streamed(school);
    await body?.cancel();
    expect([headers.get('cache-control'), headers.get('x-accel-buffering')]).toEqual(['no-store', 'no']);
    expect(headers.get('content-disposition')).toBeNull();
  });

  it.each(FORMAT_NAMES)('hold the report as %s with the bytes of the plain answer', async (format) => {
    const plain = await upload(server.url, school, ZIP, `?format=${format}`);
    const { last } = parted(await eventsOf(await streamed(school, `?format=${format}`)));
    const { body, ...head } = last.data;
    const { fileName }: Format = FORMATS[format];
    expect(head).toEqual({
      format,
      mediaType: plain.headers.get('content-type'),
      language: 'en',
      summary: summaryLine(await audit(school)),
      encoding: fileName === undefined ? 'utf-8' : 'base64',
      ...(fileName !== undefined && { fileName }),
    });
    expect(bytesOf(last.data).equals(Buffer.from(await plain.arrayBuffer()))).toBe(true);
  });

  it.each(FORMAT_NAMES)('hold the report as %s in German, where it is for people', async (format) => {
    const german = { 'accept-language': 'de' };
    const plain = await upload(server.url, school, { ...ZIP, ...german }, `?format=${format}`);
    const answer = await streamed(school, `?format=${format}`, german);
    const names = ['content-language', 'vary'];
    expect(names.map((name) => answer.headers.get(name))).toEqual(names.map((name) => plain.headers.get(name)));
    const { last } = parted(await eventsOf(answer));
    expect(last.data.language).toBe(isForPeople(format) ? 'de' : 'en');
    expect(bytesOf(last.data).equals(Buffer.from(await plain.arrayBuffer()))).toBe(true);
  });

  it('take a form and what goes along with it', async () => {
    const policy = readFileSync(join(FIXTURES, 'example-policy.yaml'));
    const body = filesForm({ archive: school, policy });
    const plain = await upload(server.url, body, FORM);
    const { last } = parted(await eventsOf(await upload(server.url, body, { ...FORM, ...EVENTS })));
    expect(last.data.body).toBe(await plain.text());
  });

  it('of a plan are of the same kind', async () => {
    const plain = await planned(server.url, PLAN, YAML, '?format=text');
    const answer = await planned(server.url, PLAN, { ...YAML, ...EVENTS }, '?format=text');
    const { told, last } = parted(await eventsOf(answer));
    expect([...new Set(told.map(({ stage }) => stage))]).toEqual(STAGES);
    expect(last.data.body).toBe(await plain.text());
  });
});

describe('events are what is answered', () => {
  const JSON_TYPE = 'application/json; charset=utf-8';
  const STREAM = 'text/event-stream; charset=utf-8';

  it.each([
    ['text/event-stream', '', STREAM],
    ['TEXT/Event-Stream', '', STREAM],
    ['text/event-stream, application/json;q=0.9', '', STREAM],
    ['text/event-stream;q=0.1', '', STREAM],
    ['text/event-stream;q=0.5, */*;q=0.1', '', STREAM],
    ['text/event-stream, application/json', '', STREAM],
    ['application/json, text/event-stream', '', JSON_TYPE],
    ['text/event-stream;q=0.5, application/json', '', JSON_TYPE],
    ['text/event-stream;q=0.5, */*', '', JSON_TYPE],
    ['text/event-stream;q=0, */*', '', JSON_TYPE],
    ['*/*', '', JSON_TYPE],
    ['text/*', '', 'text/plain; charset=utf-8'],
    ['text/event-stream', '?format=json', STREAM],
    ['text/event-stream, */*;q=0.1', '?format=markdown', STREAM],
    ['*/*', '?format=json', JSON_TYPE],
    ['image/png', '?format=json', JSON_TYPE],
    ['text/plain, text/event-stream;q=0.5', '?format=json', JSON_TYPE],
  ])('to "%s" at /v1/audits%s or not: %s', async (accept, query, type) => {
    const answer = await upload(server.url, school, { ...ZIP, accept }, query);
    await answer.body?.cancel();
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, type]);
  });

  it('never to a comparison or a what-if', async () => {
    for (const answer of [
      await compared(server.url, filesForm({ old: school, new: school }), { ...FORM, ...EVENTS }),
      await whatIfOf(server.url, filesForm({ archive: school, changes: '{}' }), { ...FORM, ...EVENTS }),
    ]) {
      expect(answer.status).toBe(406);
      expect(await answer.text()).not.toContain('text/event-stream');
    }
  });

  it('as a refusal of another form says', async () => {
    const answer = await upload(server.url, school, { ...ZIP, accept: 'image/png' });
    expect(answer.status).toBe(406);
    expect(await answer.text()).toContain('text/event-stream');
  });

  it('not to HEAD', async () => {
    const answer = await fetch(`${server.url}/v1/audits`, { method: 'HEAD', headers: EVENTS });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      405,
      'application/problem+json; charset=utf-8',
    ]);
  });
});

describe('a problem', () => {
  it.each(BAD_ARCHIVES)('found while the archive is read is the last event: $what', async ({ bytes }) => {
    const archive = await bytes();
    const plain = await upload(server.url, archive);
    const { told, last } = parted(await eventsOf(await streamed(archive)));
    expect(last).toEqual({ name: 'problem', data: await plain.json() });
    expect(last.data.status).toBe(plain.status);
    expect(told.at(-1)?.share).toBeLessThan(1);
    expect(objectionsToEvent('problem', last.data)).toEqual([]);
  });

  it.each([
    ['a body of a kind that is not read', 415, theSchool, { 'content-type': 'text/plain' }, ''],
    ['an encoding', 415, theSchool, { 'content-encoding': 'gzip' }, ''],
    ['a name in the address that there is not', 400, theSchool, {}, '?fromat=json'],
    ['a format that there is not', 400, theSchool, {}, '?format=event-stream'],
    ['a form without an archive', 400, () => filesForm({ policy: '{}' }), FORM, ''],
    ['a policy in the address and in the form', 400, twoPolicies, FORM, '?policy=common-practice'],
  ] as const)('found before that is a plain answer: %s', async (_what, status, body, headers, query) => {
    const answer = await streamed(body(), query, headers);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      status,
      'application/problem+json; charset=utf-8',
    ]);
  });

  it.each(['announced', 'in chunks'])('of an upload too large, %s, is a plain answer', async (how) => {
    const own = await startServer({ audits: shared(pool), limits: { uploadBytes: 1000 } });
    const body = how === 'announced' ? school : new Blob([school]).stream();
    const request = { method: 'POST', headers: { ...ZIP, ...EVENTS }, body, duplex: 'half' } as RequestInit;
    const answer = await fetch(`${own.url}/v1/audits`, request);
    expect([answer.status, ((await answer.json()) as { type: string }).type]).toEqual([
      413,
      'urn:linebudget:problem:limit-exceeded',
    ]);
    await own.stop();
  });

  it('of our own is the last event without internals, and stands in the log', async () => {
    const log = new Log();
    const audits = stubRunner(() => Promise.reject(new Error('secret 7f3a')));
    const own = await startServer({ audits, logger: log.logger });
    const { last } = parted(await eventsOf(await upload(own.url, school, { ...ZIP, ...EVENTS })));
    expect(last.name).toBe('problem');
    expect(last.data).toMatchObject({ type: 'urn:linebudget:problem:internal-fault', status: 500 });
    await own.stop();
    expect(JSON.stringify(last.data) + log.text).not.toContain('secret');
    expect(log.entries.map(({ msg }) => msg)).toContain('a fault of our own');
  });

  it('is counted and logged by its code, as in a plain answer', async () => {
    const log = new Log();
    const own = await startServer({ audits: shared(pool), logger: log.logger });
    const ask = async (archive: Uint8Array | string) => eventsOf(await upload(own.url, archive, { ...ZIP, ...EVENTS }));
    await ask('no archive');
    await ask(school);
    await ask(school);
    const figures = await (await fetch(`${own.url}/metrics`)).text();
    expect(figures).toContain('linebudget_audits_total{outcome="not-a-zip"} 1\n');
    expect(figures).toContain('linebudget_audits_total{outcome="report"} 2\n');
    expect(figures).toContain('linebudget_audit_duration_seconds_count 2\n');
    await own.stop();
    expect(log.entries.filter(({ problem }) => problem)).toMatchObject([{ problem: 'not-a-zip', status: 415 }]);
  });
});

function theSchool(): Buffer {
  return school;
}

function twoPolicies(): Buffer {
  return filesForm({ archive: school, policy: '{}' });
}

describe('who is let in', () => {
  const origin = 'https://portal.example';
  let guarded: Server;

  beforeAll(async () => {
    guarded = await startServer({ audits: shared(pool), access: byToken({ allowedOrigins: [origin] }) });
  });

  afterAll(() => guarded.stop());

  it.each([
    ['no token', {}, 401],
    ['an unknown token', bearer(TOKEN.stranger), 401],
    ['the token of another role', bearer(TOKEN.watcher), 403],
  ] as const)('is not who has %s', async (_who, headers, status) => {
    const answer = await upload(guarded.url, school, { ...ZIP, ...EVENTS, ...headers });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      status,
      'application/problem+json; charset=utf-8',
    ]);
  });

  it('reads the events, from a page of an origin that is listed too', async () => {
    const headers = { ...ZIP, ...EVENTS, ...bearer(TOKEN.auditor), origin };
    const answer = await upload(guarded.url, school, headers);
    expect(answer.headers.get('access-control-allow-origin')).toBe(origin);
    expect(parted(await eventsOf(answer)).last.name).toBe('report');
  });

  it('asks no more often than may be', async () => {
    const access = { ...EVERYBODY, rateLimit: { requestsPerMinute: 1 } };
    const own = await startServer({ audits: shared(pool), access });
    const ask = () => upload(own.url, school, { ...ZIP, ...EVENTS });
    expect(parted(await eventsOf(await ask())).last.name).toBe('report');
    expect((await ask()).status).toBe(429);
    await own.stop();
  });
});
