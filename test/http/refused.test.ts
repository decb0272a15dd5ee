import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { INPUT_FAULTS } from '../../src/errors.js';
import { type ArchiveLimitName, DEFAULT_LIMITS } from '../../src/limits.js';
import { EN } from '../../src/words/en/words.js';
import { fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { BAD_ARCHIVES } from '../support/bad-archives.js';
import { extraField, rawZip } from '../support/raw-zip.js';
import {
  exchange,
  FORM,
  form,
  head,
  poolOf,
  type Server,
  shared,
  startServer,
  upload,
  ZIP,
} from '../support/server.js';
import { topologyXml } from '../support/xml.js';

const pool = poolOf({ auditThreads: 1 });
let server: Server;

beforeAll(async () => {
  server = await startServer({ audits: shared(pool) });
});

afterAll(async () => {
  await server.stop();
  await pool.close();
});

async function problemOf(response: Response): Promise<Record<string, unknown>> {
  expect(response.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
  const problem = (await response.json()) as Record<string, unknown>;
  expect(problem.status).toBe(response.status);
  return problem;
}

describe('an archive that cannot be audited', () => {
  it.each(BAD_ARCHIVES)('$what is answered with $code', async ({ bytes, code, part, line, says }) => {
    const response = await upload(server.url, await bytes());
    expect(response.status).toBe(INPUT_FAULTS[code].status);
    const problem = await problemOf(response);
    expect(problem).toMatchObject({ type: `urn:linebudget:problem:${code}`, ...EN.problems[code] });
    expect(problem.part).toBe(part);
    expect(problem.line).toBe(line);
    expect(problem.detail).toContain(says);
    const place = part === undefined ? '' : `"${part}"${line === undefined ? '' : `, line ${line}`}: `;
    expect(problem.detail).toContain(place);
  });

  it('is refused alike out of a form', async () => {
    for (const { bytes } of BAD_ARCHIVES) {
      const archive = await bytes();
      const fields = new FormData();
      fields.set('archive', new Blob([new Uint8Array(archive)]), 'export.bin');
      const raw = await upload(server.url, archive);
      const formed = await fetch(`${server.url}/v1/audits`, { method: 'POST', body: fields });
      expect([formed.status, await formed.text()]).toEqual([raw.status, await raw.text()]);
    }
  });

  it('is there for every kind of fault but the limits', () => {
    const codes = new Set(BAD_ARCHIVES.map(({ code }) => code));
    expect([...codes, 'limit-exceeded', ...ALONG].sort()).toEqual(Object.keys(INPUT_FAULTS).sort());
  });
});

/** Faults of what goes along with an archive, or in place of one; `documents.test.ts`, `plans.test.ts` and `what-ifs.test.ts` have them. */
const ALONG = [
  'invalid-policy',
  'invalid-product-list',
  'invalid-waivers',
  'invalid-baseline',
  'invalid-site-sheet',
  'invalid-measured-values',
  'invalid-plan',
  'invalid-changes',
];

/** The house, with a word in every place where an archive may hold one. */
function annotatedHouse(): Buffer {
  const extra = extraField(0x5455, Buffer.alloc(5));
  const comment = Buffer.from('house');
  const entries = Object.entries(fixtureParts('house')).map(([name, data]) => ({
    name,
    data,
    central: { extra, comment },
  }));
  return rawZip(entries, { comment });
}

/** For every limit a value that the house is over; of the ratio, which counts from 1 MiB on, a house of blanks. */
const TOO_LITTLE: Record<ArchiveLimitName, number> = {
  uploadBytes: 100,
  archiveEntries: 2,
  entryNameLength: 5,
  entryDepth: 0,
  entryExtraLength: 8,
  entryCommentLength: 3,
  archiveCommentLength: 3,
  declaredBytes: 5000,
  topologyBytes: 1000,
  partBytes: 100,
  totalBytes: 5000,
  partRatio: 10,
  xmlDepth: 3,
  xmlAttributes: 1,
  xmlTagBytes: 10,
  xmlNameLength: 3,
  xmlValueLength: 4,
  readValueLength: 3,
  elementsRead: 5,
  reportLength: 1000,
};

describe('an archive over a limit', () => {
  it.each(Object.entries(TOO_LITTLE))('of %s %d is answered with 413, naming both', async (name, value) => {
    const limited = await startServer({ audits: shared(pool), limits: { [name]: value } });
    const blanks = () => zip({ 'P-0001/0.xml': topologyXml(' '.repeat(2 * 1024 * 1024)) });
    const archive = name === 'partRatio' ? await blanks() : annotatedHouse();
    const answers = [await upload(limited.url, archive), await upload(server.url, annotatedHouse())];
    await limited.stop();
    expect(answers.map(({ status }) => status)).toEqual([413, 200]);
    const problem = await problemOf(answers[0] as Response);
    expect(problem.type).toBe('urn:linebudget:problem:limit-exceeded');
    expect(problem.detail).toContain(`the limit ${name} is ${value}`);
  });

  it('passes at the limit of uploadBytes and fails one byte below, however it is sent', async () => {
    const archive = await fixtureArchive('house');
    const statuses: number[] = [];
    for (const uploadBytes of [archive.length, archive.length - 1]) {
      const limited = await startServer({ audits: shared(pool), limits: { uploadBytes } });
      const fields = new FormData();
      fields.set('archive', new Blob([new Uint8Array(archive)]), 'house.zip');
      const formed = await fetch(`${limited.url}/v1/audits`, { method: 'POST', body: fields });
      const chunks = {
        method: 'POST',
        body: new Blob([new Uint8Array(archive)]).stream(),
        duplex: 'half',
        headers: ZIP,
      };
      const chunked = await fetch(`${limited.url}/v1/audits`, chunks as RequestInit);
      statuses.push((await upload(limited.url, archive)).status, formed.status, chunked.status);
      await limited.stop();
    }
    expect(statuses).toEqual([200, 200, 200, 413, 413, 413]);
  });

  it('passes at the limit of formBytes and fails one byte below, with and without a length', async () => {
    const archive = await fixtureArchive('house');
    const fields = form([{ name: 'archive', filename: 'house.zip', data: archive }]);
    const around = fields.length - archive.length;
    const answers: (string | number)[] = [];
    for (const formBytes of [around, around - 1]) {
      const limited = await startServer({ audits: shared(pool), limits: { formBytes } });
      const whole = await exchange(limited.port, head({ ...FORM, 'content-length': fields.length }), fields);
      const chunked = await exchange(limited.port, head({ ...FORM, 'transfer-encoding': 'chunked' }), chunk(fields));
      await limited.stop();
      answers.push(...[whole, chunked].map(({ status, body }) => (status === 413 ? JSON.parse(body).detail : status)));
    }
    const detail = `the form has ${around} bytes around its files; the limit formBytes is ${around - 1}`;
    expect(answers).toEqual([200, 200, detail, detail]);
  });

  it('is refused by its announced length, before any of it is sent', async () => {
    const length = DEFAULT_LIMITS.uploadBytes + 1024 * 1024;
    const answer = await exchange(server.port, head({ ...ZIP, 'content-length': length }));
    expect(answer.status).toBe(413);
    const said = `the upload has ${length} bytes; the limit uploadBytes is ${DEFAULT_LIMITS.uploadBytes}`;
    expect(JSON.parse(answer.body).detail).toBe(said);
  });
});

it('headers over headerBytes are answered with 431, naming the limit and its value', async () => {
  const limited = await startServer({ audits: shared(pool), limits: { headerBytes: 2000 } });
  const [fits, over] = [1500, 2500].map((length) => head({ 'x-long': 'y'.repeat(length) }, '/healthz', 'GET'));
  expect((await exchange(limited.port, fits ?? '')).status).toBe(200);
  const answer = await exchange(limited.port, over ?? '');
  await limited.stop();
  expect(answer.status).toBe(431);
  expect(JSON.parse(answer.body).detail).toBe('the headers together are over the limit headerBytes, which is 2000');
});

it.each([
  ['of a name too long', `/v1/rules/${'canary'.repeat(100)}`],
  ['that cannot be decoded', '/v1/rules/canary%zz'],
  ['of nothing', '/canary'],
  ['of no rule', '/v1/rules/canary'],
])('an address %s is not repeated in its refusal', async (_what, path) => {
  const { status, body } = await exchange(server.port, head({}, path, 'GET'));
  expect([400, 404]).toContain(status);
  expect(JSON.parse(body).detail).toMatch(/\S/);
  expect(body).not.toContain('canary');
});

it.each<[string, Record<string, string>]>([
  ['an empty one', { host: '' }],
  ['none that could be one', { host: 'a b' }],
])('a request whose Host is %s is told what it needs, and its connection closed', async (_what, headers) => {
  const answer = await exchange(server.port, head({ ...headers, connection: 'keep-alive' }, '/healthz', 'GET'));
  expect([answer.status, answer.headers.get('connection')]).toEqual([400, 'close']);
  expect(JSON.parse(answer.body).detail).toBe(
    'the request needs one header Host, which holds a name or an address and maybe a port',
  );
});

describe('a body that is not read', () => {
  it.each([
    ['without a type', 'abc', {}],
    ['without a type and empty', '', {}],
    ['of JSON', '{}', { 'content-type': 'application/json' }],
    ['of text', 'abc', { 'content-type': 'text/plain' }],
    ['of a type that is none', 'abc', { 'content-type': 'archive' }],
    ['packed once more', 'abc', { ...ZIP, 'content-encoding': 'gzip' }],
    ['of a form of another kind', 'archive=abc', { 'content-type': 'application/x-www-form-urlencoded' }],
  ])('%s is answered with 415 and what to send', async (_what, body, headers) => {
    const answer = await exchange(server.port, head({ ...headers, 'content-length': body.length }), body);
    expect(answer.status).toBe(415);
    const problem = JSON.parse(answer.body);
    expect(problem.type).toBe('urn:linebudget:problem:unsupported-media-type');
    expect(problem.detail).toMatch(/^send .*multipart\/form-data|send the archive as it is$/);
  });

  it('says that it is no ZIP where its type is read and it is empty', async () => {
    const empty = [
      exchange(server.port, head({ ...ZIP, 'content-length': 0 })),
      exchange(
        server.port,
        head({ 'content-type': 'multipart/form-data; boundary=B', 'transfer-encoding': 'chunked' }),
        chunk(form([{ name: 'archive', filename: 'a', data: '' }])),
      ),
    ];
    for (const answer of await Promise.all(empty)) {
      expect(answer.status).toBe(415);
      expect(JSON.parse(answer.body).type).toBe('urn:linebudget:problem:not-a-zip');
    }
  });
});

/** A body in one chunk. */
function chunk(body: Buffer): Buffer {
  return Buffer.concat([Buffer.from(`${body.length.toString(16)}\r\n`), body, Buffer.from('\r\n0\r\n\r\n')]);
}
