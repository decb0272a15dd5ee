import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { auditPlan } from '../../src/audit.js';
import { readGiven } from '../../src/given.js';
import { EVERYBODY } from '../../src/http/access/access.js';
import { contentType } from '../../src/http/asked.js';
import { builtIn } from '../../src/policy/effective.js';
import { FORMAT_NAMES, FORMATS } from '../../src/report/format/index.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { FIXTURES } from '../support/archives.js';
import {
  exchange,
  FORM,
  filesForm,
  head,
  planned,
  poolOf,
  reportOf,
  type Server,
  shared,
  startServer,
  stubRunner,
  untilReady,
  upload,
  YAML,
} from '../support/server.js';

const PLAN = readFileSync(join(FIXTURES, 'example-plan.yaml'), 'utf8');
const JSON_TYPE = { 'content-type': 'application/json' };
const CSV = { 'content-type': 'text/csv; charset=utf-8' };

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

async function reportFrom(answer: Response): Promise<unknown> {
  const body = await answer.text();
  expect(answer.status, body).toBe(200);
  return JSON.parse(body);
}

async function problemOf(answer: Response) {
  expect(answer.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
  const { type, ...rest } = (await answer.json()) as { type: string; status: number; detail: string };
  return { code: type.replace('urn:linebudget:problem:', ''), ...rest };
}

const expected = (text: string, options = {}) => auditPlan({ name: 'plan', text }, options);

describe('a plan', () => {
  it.each([
    ['YAML', YAML, PLAN],
    ['JSON', JSON_TYPE, '{"lines": [{"line": "1.1", "supply": "640 mA", "devices": [{"count": 40}]}]}'],
    ['CSV', CSV, 'line;count;supplyMa;currentMa\n1.1;40;640;7,5\n'],
  ])('in %s is audited, as the body and in a form', async (_what, type, text) => {
    const report = await expected(text);
    expect(await reportFrom(await planned(server.url, text, type))).toEqual(report);
    expect(await reportFrom(await planned(server.url, filesForm({ plan: text }), FORM))).toEqual(report);
  });

  it.each(FORMAT_NAMES)('is answered as %s', async (format) => {
    const answer = await planned(server.url, PLAN, YAML, `?format=${format}&archiveName=plans/mill.yaml`);
    expect(answer.headers.get('content-type')).toBe(contentType(format, FORMATS));
    const report = await FORMATS[format].format(await expected(PLAN), { archive: 'plans/mill.yaml' });
    expect(Buffer.from(await answer.arrayBuffer())).toEqual(Buffer.from(report));
  });

  it('is called a plan where it has no other name', async () => {
    expect(await (await planned(server.url, PLAN, YAML, '?format=markdown')).text()).toContain('Plan plan: 2 errors');
  });

  it('is judged by policy, products and site sheet', async () => {
    const files = {
      policy: 'targetLoad: 0.5',
      products: 'productId,currentMa\n"device ""push button""",4\n',
      site: 'segments: [{segment: "1.1", totalLength: 400 m, cable: 0.8 mm pair}]',
    };
    const documents = Object.fromEntries(Object.entries(files).map(([name, text]) => [name, { name, text }]));
    const { policy, site } = await readGiven(documents);
    const found = await reportFrom(await planned(server.url, filesForm({ plan: PLAN, ...files }), FORM));
    expect(found).toEqual(await expected(PLAN, { policy, site }));
    expect(found).toMatchObject({
      summary: { currents: { overridden: 42 } },
      policy: { setBy: { targetLoad: 'policy file' } },
    });
  });

  it('is judged by a policy that is asked for by name', async () => {
    const found = await reportFrom(await planned(server.url, PLAN, YAML, '?policy=conservative'));
    expect(found).toEqual(await expected(PLAN, { policy: builtIn('conservative') }));
  });
});

describe('a plan is refused', () => {
  it.each<[string, string | Uint8Array, Record<string, string>, number, string, string]>([
    [
      'with place and what is allowed',
      'lines: [{line: 1.1}]',
      YAML,
      422,
      'invalid-plan',
      '"plan": lines[0].line: the number 1.1 is not',
    ],
    ['with the row of a list', 'line,count\n1.1,1\n1.2,x\n', CSV, 422, 'invalid-plan', '"plan", line 3: count: "x"'],
    ['that is no text', Buffer.of(0xff), YAML, 422, 'invalid-plan', 'no valid UTF-8'],
    ['that is empty', '', YAML, 422, 'invalid-plan', 'lines: nothing is not allowed'],
    [
      'of another kind',
      PLAN,
      { 'content-type': 'application/zip' },
      415,
      'unsupported-media-type',
      'send the plan as application/json, application/yaml, text/csv, or as the field "plan"',
    ],
    [
      'that is missing',
      filesForm({ policy: '{}' }),
      FORM,
      400,
      'malformed-request',
      'the form has no file in the field "plan"',
    ],
    [
      'with a field too many',
      filesForm({ plan: PLAN, waivers: '{}' }),
      FORM,
      400,
      'malformed-request',
      'the fields "plan", "policy", "products", "site"',
    ],
  ])('%s', async (_what, body, headers, status, code, says) => {
    const refused = await problemOf(await planned(server.url, body, headers));
    expect(refused).toMatchObject({ status, code });
    expect(refused.detail).toContain(says);
  });

  it.each([JSON_TYPE, YAML, CSV])('as an archive, by its type: %j', async (type) => {
    expect(await problemOf(await upload(server.url, PLAN, type))).toMatchObject({ status: 415 });
  });

  it('over documentBytes, and not at it, with and without a length', async () => {
    const length = Buffer.byteLength(PLAN);
    const statuses: number[] = [];
    for (const documentBytes of [length, length - 1]) {
      const limited = await startServer({ audits: shared(pool), limits: { documentBytes } });
      const chunked = [`${length.toString(16)}\r\n`, PLAN, '\r\n0\r\n\r\n'];
      const inChunks = head({ ...YAML, 'transfer-encoding': 'chunked' }, '/v1/plans');
      statuses.push(
        (await planned(limited.url, PLAN)).status,
        (await planned(limited.url, filesForm({ plan: PLAN }), FORM)).status,
        (await exchange(limited.port, inChunks, ...chunked)).status,
      );
      await limited.stop();
    }
    expect(statuses).toEqual([200, 200, 200, 413, 413, 413]);
  });

  it('by its announced length, before any of it is sent', async () => {
    const answer = await exchange(server.port, head({ ...YAML, 'content-length': 2 ** 21 }, '/v1/plans'));
    expect([answer.status, JSON.parse(answer.body).detail]).toEqual([
      413,
      'a document has 2097152 bytes; the limit documentBytes is 1048576',
    ]);
  });
});

describe('what lets audits in', () => {
  const audits = () => stubRunner(async () => reportOf('{}'));

  it('counts plans with them', async () => {
    const own = await startServer({ audits: audits(), access: { ...EVERYBODY, rateLimit: { requestsPerMinute: 2 } } });
    const statuses: number[] = [];
    for (const send of [() => planned(own.url, PLAN), () => upload(own.url, 'abc'), () => planned(own.url, PLAN)])
      statuses.push((await send()).status);
    await own.stop();
    expect(statuses).toEqual([200, 200, 429]);
  });

  it('demands the role "audit" of them', async () => {
    const own = await startServer({ audits: audits(), access: byToken() });
    const tries = [{}, bearer(TOKEN.stranger), bearer(TOKEN.watcher), bearer(TOKEN.auditor)];
    const answers = await Promise.all(tries.map((token) => planned(own.url, PLAN, { ...YAML, ...token })));
    await own.stop();
    expect(answers.map(({ status }) => status)).toEqual([401, 401, 403, 200]);
  });
});
