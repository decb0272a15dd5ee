import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readChanges } from '../../src/changes/changes.js';
import { readGiven } from '../../src/given.js';
import { builtIn } from '../../src/policy/effective.js';
import { COMPARISON_FORMAT_NAMES, COMPARISON_FORMATS } from '../../src/report/compare/formats.js';
import { whatIf } from '../../src/what-if.js';
import { FIXTURES, fixtureArchive } from '../support/archives.js';
import {
  FORM,
  filesForm,
  poolOf,
  type Server,
  shared,
  startServer,
  untilReady,
  whatIfOf,
  ZIP,
} from '../support/server.js';

type Files = Readonly<Record<string, string | Uint8Array>>;

const CHANGES = readFileSync(join(FIXTURES, 'example-changes.yaml'), 'utf8');
const pool = poolOf({ auditThreads: 1 });
let server: Server;
let archive: Buffer;

beforeAll(async () => {
  await untilReady(pool);
  server = await startServer({ audits: shared(pool) });
  archive = await fixtureArchive('school');
});

afterAll(async () => {
  await server.stop();
  await pool.close();
});

const send = (files: Files, query = '') => whatIfOf(server.url, filesForm(files), FORM, query);

async function textOf(answer: Response): Promise<string> {
  const body = await answer.text();
  expect(answer.status, body).toBe(200);
  return body;
}

const expected = async (options = {}) =>
  whatIf({ archive, changes: await readChanges(CHANGES, 'changes'), asOf: '2027-01-01', ...options });

describe('a what-if', () => {
  it.each(COMPARISON_FORMAT_NAMES)('is answered as %s with the bytes that it has in the code', async (name) => {
    const answer = await send({ archive, changes: CHANGES }, `?format=${name}&asOf=2027-01-01`);
    expect(answer.headers.get('content-type')).toBe(`${COMPARISON_FORMATS[name].mediaType}; charset=utf-8`);
    expect(await textOf(answer)).toBe(COMPARISON_FORMATS[name].format(await expected()));
  });

  it('is judged by policy, products, site sheet and waivers', async () => {
    const files = {
      policy: 'targetLoad: 0.5',
      products: 'productId,orderNumber,currentMa\n,AF-SA8,4\n',
      site: 'segments: [{segment: "1.4", totalLength: 400 m, cable: 0.8 mm pair}]',
      waivers: readFileSync(join(FIXTURES, 'example-waivers.yaml'), 'utf8'),
    };
    const documents = Object.fromEntries(Object.entries(files).map(([name, text]) => [name, { name, text }]));
    const { policy, site, waivers } = await readGiven(documents);
    const found = JSON.parse(await textOf(await send({ archive, changes: CHANGES, ...files }, '?asOf=2027-01-01')));
    expect(found).toEqual(await expected({ policy, site, waivers }));
    expect(found.old.siteSha256).not.toBe(null);
  });

  it('is judged by a policy that is asked for by name', async () => {
    const found = JSON.parse(
      await textOf(await send({ archive, changes: CHANGES }, '?policy=conservative&asOf=2027-01-01')),
    );
    expect(found).toEqual(await expected({ policy: builtIn('conservative') }));
  });
});

describe('a what-if is refused', () => {
  const FIELDS = 'the fields "archive", "changes", "policy", "products", "site", "waivers"';

  it.each<[string, () => Files, number, string, string]>([
    ['without changes', () => ({ archive }), 400, 'malformed-request', 'the form has no file in the field "changes"'],
    ['without an archive', () => ({ changes: CHANGES }), 400, 'malformed-request', 'no file in the field "archive"'],
    ['with a field too many', () => ({ archive, changes: CHANGES, measured: 'a' }), 400, 'malformed-request', FIELDS],
    [
      'with changes that are no text',
      () => ({ archive, changes: Buffer.of(0xff) }),
      422,
      'invalid-changes',
      'no valid UTF-8',
    ],
    [
      'with changes that are not allowed',
      () => ({ archive, changes: 'changes: []' }),
      422,
      'invalid-changes',
      '"changes": changes: a list is not',
    ],
    [
      'with changes that do not fit',
      () => ({ archive, changes: 'changes: [{line: "1.1", add: 1, product: AF-SA9}]' }),
      422,
      'invalid-changes',
      'changes[0].product: "AF-SA9" is no product of the archive; nearest: ',
    ],
    ['with an archive that is none', () => ({ archive: 'abc', changes: CHANGES }), 415, 'not-a-zip', 'ZIP'],
  ])('%s', async (_what, files, status, code, says) => {
    const answer = await send(files());
    const { type, detail } = (await answer.json()) as { type: string; detail: string };
    expect([answer.status, type]).toEqual([status, `urn:linebudget:problem:${code}`]);
    expect(detail).toContain(says);
  });

  it('that is no form', async () => {
    expect((await whatIfOf(server.url, archive, ZIP)).status).toBe(415);
  });
});
