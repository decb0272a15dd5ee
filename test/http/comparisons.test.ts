import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { type CompareOptions, compare } from '../../src/compare.js';
import { readGiven } from '../../src/given.js';
import { EVERYBODY } from '../../src/http/access/access.js';
import { builtIn, readPolicy } from '../../src/policy/effective.js';
import type { Comparison } from '../../src/report/compare/comparison.js';
import { COMPARISON_FORMAT_NAMES, COMPARISON_FORMATS } from '../../src/report/compare/formats.js';
import { formatJson } from '../../src/report/format/json.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { schoolWith, withLargerSupply, withoutPushButton } from '../support/edited.js';
import {
  compared,
  FORM,
  filesForm,
  poolOf,
  reportOf,
  type Server,
  shared,
  startServer,
  stubRunner,
  untilReady,
  upload,
  ZIP,
} from '../support/server.js';

type Files = Readonly<Record<string, string | Uint8Array>>;

const pool = poolOf({ auditThreads: 1 });
let server: Server;
let school: Buffer;
let mended: Buffer;
let schoolReport: Buffer;
let mendedReport: Buffer;

beforeAll(async () => {
  await untilReady(pool);
  server = await startServer({ audits: shared(pool) });
  school = await schoolWith();
  mended = await schoolWith(withoutPushButton, withLargerSupply);
  schoolReport = Buffer.from(formatJson(await audit(school)));
  mendedReport = Buffer.from(formatJson(await audit(mended)));
});

afterAll(async () => {
  await server.stop();
  await pool.close();
});

const send = (files: Files, query = '') => compared(server.url, filesForm(files), FORM, query);

async function comparisonOf(files: Files, query = ''): Promise<Comparison> {
  const answer = await send(files, query);
  const body = await answer.text();
  expect(answer.status, body).toBe(200);
  return JSON.parse(body);
}

async function problemOf(answer: Response | Promise<Response>) {
  const { type, ...told } = (await (await answer).json()) as { type: string; status: number; detail: string };
  return { ...told, code: type.replace('urn:linebudget:problem:', '') };
}

/** What came of the archive, of the policy and of both. */
const causesOf = ({ findings: { unchanged: _, ...lists } }: Comparison) =>
  new Set(Object.values(lists).flatMap((changes) => changes.map(({ cause }) => cause)));

describe('two archives or reports', () => {
  it.each<[string, () => { old: Buffer; new: Buffer }]>([
    ['two archives', () => ({ old: school, new: mended })],
    ['two reports', () => ({ old: schoolReport, new: mendedReport })],
    ['a report and an archive', () => ({ old: schoolReport, new: mended })],
    ['an archive and a report', () => ({ old: school, new: mendedReport })],
  ])('%s are compared as in the code', async (_what, files) => {
    const found = await comparisonOf(files());
    expect(found).toEqual(await compare(files()));
    expect(found.findings.fixed.map(({ rule, subject }) => `${rule} ${subject}`)).toEqual([
      'overloaded-segment 1.2',
      'fan-in-exceeded 1.2',
    ]);
  });

  it('come in any order', async () => {
    expect(await comparisonOf({ new: mended, old: school })).toEqual(await compare({ old: school, new: mended }));
  });

  it.each(COMPARISON_FORMAT_NAMES)('are answered as %s with the bytes that it has in the code', async (name) => {
    const { mediaType, format } = COMPARISON_FORMATS[name];
    const expected = format(await compare({ old: school, new: mended }));
    const body = filesForm({ old: school, new: mended });
    const answers = [
      await compared(server.url, body, FORM, `?format=${name}`),
      await compared(server.url, body, { ...FORM, accept: mediaType }),
    ];
    for (const answer of answers) {
      expect([answer.status, answer.headers.get('content-type')]).toEqual([200, `${mediaType}; charset=utf-8`]);
      expect(await answer.text()).toBe(expected);
    }
  });
});

const BY_BOTH = ['archive', 'policy'];
const read = (text: string) => readPolicy(text, 'policy');

async function both(text: string): Promise<Partial<CompareOptions>> {
  return { oldPolicy: await read(text), newPolicy: await read(text) };
}

function named(name: 'conservative'): Partial<CompareOptions> {
  return { oldPolicy: builtIn(name), newPolicy: builtIn(name) };
}

describe('a site sheet', () => {
  const sheet = JSON.stringify({
    segments: [{ segment: '1.6', fedBy: ['1.1.1'], cable: '0.6 mm pair', farthest: '380 m' }],
  });

  it('goes along with both archives', async () => {
    const { site } = await readGiven({ site: { name: 'site', text: sheet } });
    const found = await comparisonOf({ old: school, new: mended, site: sheet });
    expect(found).toEqual(await compare({ old: school, new: mended, site }));
    expect(found).toMatchObject({ inputs: { site: 'same' }, old: { siteSha256: site?.sha256 } });
    expect((await comparisonOf({ old: school, new: mended })).old).toMatchObject({ siteSha256: null });
  });

  it('cannot go along with a report, which was judged when it was made', async () => {
    const refused = await problemOf(send({ old: schoolReport, new: mended, site: sheet }));
    expect(refused).toMatchObject({ status: 422, code: 'invalid-site-sheet' });
  });
});

describe('policies', () => {
  const strict = 'targetLoad: 0.7';

  it.each<[string, () => Files, string, () => Promise<Partial<CompareOptions>>, (string | null)[]]>([
    ['for both', () => ({ policy: strict }), '', async () => both(strict), ['archive']],
    ['for the old one', () => ({ oldPolicy: strict }), '', async () => ({ oldPolicy: await read(strict) }), BY_BOTH],
    ['for the new one', () => ({ newPolicy: strict }), '', async () => ({ newPolicy: await read(strict) }), BY_BOTH],
    ['by name', () => ({}), '?policy=conservative', async () => named('conservative'), ['archive']],
    [
      'for both, and another for the new one',
      () => ({ policy: 'targetLoad: 0.9', newPolicy: strict }),
      '',
      async () => ({ oldPolicy: await read('targetLoad: 0.9'), newPolicy: await read(strict) }),
      BY_BOTH,
    ],
  ])('%s judge the archives', async (_what, policies, query, expected, causes) => {
    const found = await comparisonOf({ old: school, new: mended, ...policies() }, query);
    expect(found).toEqual(await compare({ old: school, new: mended, ...(await expected()) }));
    expect(found).not.toEqual(await compare({ old: school, new: mended }));
    for (const cause of causes) expect(causesOf(found)).toContain(cause);
    expect(found.inputs.policy).toBe(causes.includes('policy') ? 'differs' : 'same');
  });

  it.each(['policy', 'oldPolicy', 'newPolicy'])('%s that cannot be used is told by its field', async (field) => {
    const refused = await problemOf(send({ old: school, new: mended, [field]: 'targetLoad: 2' }));
    expect(refused).toMatchObject({ status: 422, code: 'invalid-policy', part: field });
    expect(refused.detail).toContain('targetLoad: "2" is not allowed; it takes a number above 0, up to 1');
    const unread = await problemOf(send({ old: school, new: mended, [field]: Buffer.of(0xff) }));
    expect(unread).toMatchObject({ status: 422, code: 'invalid-policy', part: field });
  });

  const ASKED: readonly [string, Files, string][] = [
    ['a policy', { policy: '{}' }, ''],
    ['a policy for the old one', { oldPolicy: '{}' }, ''],
    ['a policy for the new one', { newPolicy: '{}' }, ''],
    ['a policy by name', {}, '?policy=conservative'],
    ['the policy that is the default, by name', {}, '?policy=common-practice'],
  ];

  it.each(ASKED)('are refused of reports: %s', async (_what, files, query) => {
    for (const sides of [
      { old: schoolReport, new: mendedReport },
      { old: schoolReport, new: mended },
      { old: school, new: mendedReport },
    ]) {
      const refused = await problemOf(send({ ...sides, ...files }, query));
      expect(refused).toMatchObject({ status: 422, code: 'invalid-policy' });
      expect(refused.detail).toContain('a report was judged already when it was made');
    }
  });
});

describe('waivers', () => {
  it.each([
    ['2027-06-30', true],
    ['2027-07-01', false],
  ])('are judged on %s: %s', async (asOf, counts) => {
    const { findings } = JSON.parse(String(schoolReport)) as { findings: { rule: string; fingerprint: string }[] };
    const rule = 'overloaded-segment';
    const fingerprint = findings.find((finding) => finding.rule === rule)?.fingerprint;
    const waiver = { fingerprint, rule, reason: 'split in May', author: 'A', expires: '2027-06-30' };
    const waivers = JSON.stringify({ waivers: [waiver] });
    const found = await comparisonOf({ old: school, new: mended, waivers }, `?asOf=${asOf}`);
    const fixed = found.findings.fixed.find((change) => change.rule === rule);
    expect([fixed?.old?.waived, found.old.asOf]).toEqual([counts, asOf]);
  });
});

describe('a comparison is refused', () => {
  it.each(['old', 'new'])('without the field %s', async (field) => {
    const { [field]: _, ...rest } = { old: school, new: mended } as Record<string, Buffer>;
    const refused = await problemOf(send(rest));
    expect(refused).toMatchObject({ status: 400, detail: `the form has no file in the field "${field}"` });
  });

  it('with a field too many', async () => {
    const refused = await problemOf(send({ old: school, new: mended, baseline: schoolReport }));
    expect(refused.status).toBe(400);
    expect(refused.detail).toContain('"old", "new", "policy", "oldPolicy", "newPolicy", "site", "waivers"');
  });

  it.each(['old', 'new'])('where %s is neither an archive nor a report, and told which', async (side) => {
    const answer = (data: string) => problemOf(send({ old: school, new: mended, [side]: data }));
    const refused = await answer('neither');
    expect(refused).toMatchObject({ status: 415, code: 'not-a-zip' });
    expect(refused.detail).toContain(`${side} archive: `);
    expect(await answer(' {"a":1}')).toMatchObject({ status: 422, code: 'invalid-baseline', part: `${side} report` });
  });

  it('as one archive by itself', async () => {
    const refused = await problemOf(compared(server.url, school, ZIP));
    expect(refused).toMatchObject({ status: 415, code: 'unsupported-media-type' });
    expect(refused.detail).toContain(
      'send a multipart/form-data body; the form takes files in the fields "old", "new"',
    );
  });

  it.each(['?format=sarif', '?format=json&format=json', '?olpPolicy=standard', '?asOf=today'])(
    'at an address with %s',
    async (query) => {
      expect(await problemOf(send({ old: school, new: mended }, query))).toMatchObject({
        status: 400,
        code: 'malformed-request',
      });
    },
  );

  it('where it is wanted as something that there is not', async () => {
    const refused = await problemOf(compared(server.url, filesForm({}), { ...FORM, accept: 'text/csv' }));
    expect(refused).toMatchObject({ status: 406, detail: 'the answer comes as application/json, text/plain' });
  });
});

describe('what lets audits in', () => {
  const audits = () => stubRunner(async () => reportOf('{}'));
  const body = () => filesForm({ old: school, new: mended });

  it('counts comparisons with them', async () => {
    const own = await startServer({ audits: audits(), access: { ...EVERYBODY, rateLimit: { requestsPerMinute: 2 } } });
    const statuses = [
      (await compared(own.url, body())).status,
      (await upload(own.url, 'abc')).status,
      (await compared(own.url, body())).status,
      (await upload(own.url, 'abc')).status,
    ];
    await own.stop();
    expect(statuses).toEqual([200, 200, 429, 429]);
  });

  it('demands the role "audit" of them', async () => {
    const own = await startServer({ audits: audits(), access: byToken() });
    const tries = [{}, bearer(TOKEN.stranger), bearer(TOKEN.watcher), bearer(TOKEN.auditor), bearer(TOKEN.both)];
    const answers = await Promise.all(tries.map((token) => compared(own.url, body(), { ...FORM, ...token })));
    await own.stop();
    expect(answers.map(({ status }) => status)).toEqual([401, 401, 403, 200, 200]);
    expect(answers[2]?.headers.get('www-authenticate')).toContain('scope="audit"');
  });

  it('measures them with audits', async () => {
    const own = await startServer({ audits: shared(pool) });
    await compared(own.url, body());
    await compared(own.url, filesForm({ old: school }));
    await compared(own.url, filesForm({ old: school, new: mended, policy: 'a: 1' }));
    const figures = await (await fetch(`${own.url}/metrics`)).text();
    await own.stop();
    for (const outcome of ['report', 'malformed-request', 'invalid-policy'])
      expect(figures).toContain(`linebudget_audits_total{outcome="${outcome}"} 1\n`);
    expect(figures).toContain('linebudget_audit_duration_seconds_count 1\n');
    expect(figures).toContain('linebudget_audits_in_flight 0\n');
  });
});
