import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { readGiven } from '../../src/given.js';
import { builtIn, readPolicy } from '../../src/policy/effective.js';
import { formatCsvSiteCheck } from '../../src/report/format/csv-site-check.js';
import { formatCsvUnknowns } from '../../src/report/format/csv-unknowns.js';
import { FORMAT_NAMES, FORMATS } from '../../src/report/format/index.js';
import { formatJson } from '../../src/report/format/json.js';
import type { Report } from '../../src/report/report.js';
import { fixtureArchive } from '../support/archives.js';
import {
  FORM,
  filesForm,
  poolOf,
  type Server,
  shared,
  startServer,
  untilReady,
  upload,
  ZIP,
} from '../support/server.js';

type Files = Readonly<Record<string, string | Uint8Array>>;

/** Small enough that a test can be just at them. */
const LIMITS = { documentBytes: 2000, uploadBytes: 800_000 };

const pool = poolOf({ auditThreads: 1, ...LIMITS });
let server: Server;
let school: Buffer;
let report: Report;

beforeAll(async () => {
  await untilReady(pool);
  server = await startServer({ audits: shared(pool), limits: LIMITS });
  school = await fixtureArchive('school');
  report = await audit(school);
});

/** Whatever was refused before, the service goes on. */
afterAll(async () => {
  expect((await fetch(`${server.url}/readyz`)).status).toBe(200);
  expect(await reportOf({})).toEqual(report);
  expect(pool.load()).toEqual({ running: 0, waiting: 0 });
  await server.stop();
  await pool.close();
});

/** The school with files beside it. */
const send = (files: Files, query = '') => upload(server.url, filesForm({ archive: school, ...files }), FORM, query);

async function reportOf(files: Files, query = ''): Promise<Report> {
  const answer = await send(files, query);
  const body = await answer.text();
  expect(answer.status, body).toBe(200);
  return JSON.parse(body);
}

interface Told {
  readonly status: number;
  readonly type: string;
  readonly detail: string;
}

async function problemOf(answer: Response): Promise<Told> {
  expect(answer.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
  return (await answer.json()) as Told;
}

const verdictOf = ({ segments }: Report, label: string) => segments.find((one) => one.label === label)?.verdict;

const problem = (code: string) => `urn:linebudget:problem:${code}`;

describe('a policy', () => {
  // 1.5 is loaded to 79.5 %, 1.4 to 88.5 %.
  it.each([
    ['targetLoad: 0.8', 'sufficient', 'tight'],
    ['targetLoad: 0.78', 'tight', 'tight'],
    ['{"targetLoad": 0.9}', 'sufficient', 'sufficient'],
  ])('%s decides, and the report says so', async (policy, verdict15, verdict14) => {
    const found = await reportOf({ policy });
    expect([verdictOf(found, '1.5'), verdictOf(found, '1.4')]).toEqual([verdict15, verdict14]);
    expect(found).toEqual(await audit(school, { policy: await readPolicy(policy, 'policy'), asOf: '2027-01-01' }));
    expect(found.policy.setBy.targetLoad).toBe('policy file');
    expect(found.policy.sources.targetLoad).toBe('set by hand in the policy file (targetLoad)');
  });

  it('may begin with a byte order mark', async () => {
    expect((await reportOf({ policy: '\uFEFFtargetLoad: 0.5' })).policy.values.targetLoad).toBe(0.5);
  });

  it.each(['common-practice', 'conservative', 'standard'] as const)('%s can be asked for by name', async (name) => {
    const found = await reportOf({}, `?policy=${name}`);
    expect(found).toEqual(await audit(school, { policy: builtIn(name) }));
    expect(found.policy.extends).toBe(name);
  });

  it('in a file beside one that is asked for by name is refused, as one of them would not count', async () => {
    const { status, detail } = await problemOf(await send({ policy: 'extends: standard' }, '?policy=conservative'));
    expect(status).toBe(400);
    expect(detail).toBe('the address names a policy and the form holds one; keep one of them');
  });

  it('is refused with path, value and what is allowed, for each fault', async () => {
    const policy = 'targetLode: 0.7\ntargetLoad: 1.5\nstock:\n  - ratingMa: 320\n    kinds: [plain, odd]';
    const { status, type, detail } = await problemOf(await send({ policy }));
    expect([status, type]).toEqual([422, problem('invalid-policy')]);
    expect(detail).toMatch(/there is no key "targetLode"; this is a mapping of .*\btargetLoad\b/);
    expect(detail).toContain('targetLoad: "1.5" is not allowed; it takes a number above 0, up to 1');
    expect(detail).toContain('stock[0].kinds[1]: "odd" is not allowed; it takes one of plain, reporting, redundant');
  });

  it('with a key of a prototype is refused like any other', async () => {
    const { type, detail } = await problemOf(await send({ policy: '{"__proto__": {"targetLoad": 0.1}}' }));
    expect([type, detail]).toEqual([problem('invalid-policy'), expect.stringContaining('there is no key "__proto__"')]);
  });
});

describe('a list of products', () => {
  it('filled in is what the devices are charged with', async () => {
    const list = formatCsvUnknowns(report).replace(/^(QH-PC1,.*),,,$/m, '$1,7.5,,data sheet of 2026');
    const found = await reportOf({ products: list });
    const charged = found.segments
      .flatMap(({ devices }) => devices)
      .filter(({ orderNumber }) => orderNumber === 'QH-PC1');
    expect(charged.map(({ currentMa, origin }) => [currentMa, origin])).toEqual(Array(3).fill([7.5, 'overridden']));
    expect(found.policy.products).toMatchObject([{ devices: 3, note: 'data sheet of 2026' }]);
    expect(found.unknowns.map(({ orderNumber }) => orderNumber)).not.toContain('QH-PC1');
  });

  it('is refused with line, column, value and what is allowed', async () => {
    const products = 'orderNumber;currentMa\nQH-PC1;7,5\nQH-PC2;much';
    const refused = await problemOf(await send({ products }));
    expect(refused).toMatchObject({ status: 422, type: problem('invalid-product-list'), part: 'products', line: 3 });
    expect(refused.detail).toMatch(/currentMa: "much" is not allowed; it takes a number in mA/);
  });
});

describe('a site sheet and measured values', () => {
  // fixtures/school.md: 1.2 draws 362.7 mA from one supply.
  const site = 'segments: [{segment: "1.2", connected: ["1.2.0"]}]';
  const currentsIn = ({ segments }: Report) =>
    segments.flatMap(({ onSite }) => onSite?.expected?.readings ?? []).filter(({ quantity }) => quantity === 'current');
  const measuredList = (value: number) => {
    const rows = formatCsvSiteCheck(report).split('\r\n');
    return [rows[0], ...rows.filter((row) => row.startsWith('1.2,') && row.includes('current'))]
      .join('\r\n')
      .replace(/,,,,$/, `,${value},,,`);
  };

  it('filled in is what the report has as measured', async () => {
    const found = await reportOf({ measured: measuredList(350.5) });
    expect(currentsIn(found)).toMatchObject([{ quantity: 'current', expected: 362.7, measured: 350.5 }]);
    const { site: given } = await readGiven({ measured: { name: 'measured', text: measuredList(350.5) } });
    expect(found.site).toEqual({ sha256: given?.sha256 });
  });

  it('go together, in either order of their fields', async () => {
    const found = await reportOf({ site, measured: measuredList(20) });
    expect(currentsIn(found)).toMatchObject([{ quantity: 'current', measured: 20 }]);
    expect(found.segments.find(({ label }) => label === '1.2')?.onSite?.expected?.connectedBy).toBe('site sheet');
    expect(await reportOf({ measured: measuredList(20), site })).toEqual(found);
    expect((await reportOf({ site })).site).not.toEqual(found.site);
  });

  it('are refused with line or path, value and what is allowed', async () => {
    const list = await problemOf(await send({ site, measured: measuredList(-1) }));
    expect(list).toMatchObject({ status: 422, type: problem('invalid-measured-values'), part: 'measured', line: 2 });
    expect(list.detail).toContain('measured: "-1" is not allowed; it takes a number from 0 to 10000 mA');
    const sheet = await problemOf(await send({ site: site.replace('1.2.0', '1.2.99'), measured: measuredList(1) }));
    expect(sheet).toMatchObject({ status: 422, type: problem('invalid-site-sheet'), part: 'site' });
    expect(sheet.detail).toContain('segments[0].connected[0]: "1.2.99" is no device of the archive');
  });
});

describe('waivers', () => {
  const RULE = 'overloaded-segment';
  const overload = () => report.findings.find(({ rule }) => rule === RULE);
  const list = () =>
    JSON.stringify({
      waivers: [
        {
          fingerprint: overload()?.fingerprint,
          rule: RULE,
          reason: 'split in May',
          author: 'A',
          expires: '2027-06-30',
        },
      ],
    });

  it.each([
    ['2027-06-29', true],
    ['2027-06-30', true],
    ['2027-07-01', false],
  ])('judged on %s count: %s', async (asOf, counts) => {
    const { findings } = await reportOf({ waivers: list() }, `?asOf=${asOf}`);
    const waiver = findings.find(({ rule }) => rule === RULE)?.waiver ?? null;
    expect(waiver === null).toBe(!counts);
    if (counts) expect(waiver).toMatchObject({ reason: 'split in May', expires: '2027-06-30' });
    expect(findings.some(({ rule }) => rule === 'waiver-expired')).toBe(!counts);
  });

  it('are judged today where no day is asked for', async () => {
    const expires = (day: string) => list().replace('2027-06-30', day);
    const counts = async (waivers: string) =>
      (await reportOf({ waivers })).findings.find(({ rule }) => rule === RULE)?.waiver !== null;
    expect([await counts(expires('2000-01-01')), await counts(expires('9999-12-31'))]).toEqual([false, true]);
  });

  it('are refused with path, value and what is allowed', async () => {
    const refused = await problemOf(await send({ waivers: list().replace('2027-06-30', '2027-06-31') }));
    expect(refused).toMatchObject({ status: 422, type: problem('invalid-waivers'), part: 'waivers' });
    expect(refused.detail).toContain('waivers[0].expires: "2027-06-31" is not allowed; it takes a day of the calendar');
  });
});

describe('a baseline', () => {
  it('marks what has come since', async () => {
    const [first, ...before] = report.findings;
    const { findings } = await reportOf({ baseline: formatJson({ ...report, findings: before }) });
    const isFirst = ({ fingerprint }: { fingerprint: string }) => fingerprint === first?.fingerprint;
    expect(findings.filter(isFirst).map(({ sinceBaseline }) => sinceBaseline)).toEqual(['new']);
    const others = findings.filter((finding) => !isFirst(finding));
    expect(new Set(others.map(({ sinceBaseline }) => sinceBaseline))).toEqual(new Set(['unchanged']));
  });

  it.each([
    ['no JSON', 'linebudget 0.1.0', 'it is not JSON'],
    ['no report', '{}', 'no report of this tool'],
    ['a report of another version', '{"reportVersion":2}', 'a report of version 2'],
  ])('that is %s is refused', async (_what, baseline, says) => {
    const refused = await problemOf(await send({ baseline }));
    expect(refused).toMatchObject({ status: 422, type: problem('invalid-baseline'), part: 'baseline' });
    expect(refused.detail).toContain(says);
  });
});

describe('a file beside the archive', () => {
  const FIELDS = [
    ['policy', 'invalid-policy'],
    ['products', 'invalid-product-list'],
    ['site', 'invalid-site-sheet'],
    ['measured', 'invalid-measured-values'],
    ['waivers', 'invalid-waivers'],
    ['baseline', 'invalid-baseline'],
  ] as const;

  it.each(FIELDS)('%s that is no UTF-8 is refused as %s', async (field, code) => {
    const refused = await problemOf(await send({ [field]: Buffer.from([0x23, 0xff, 0x0a]) }));
    expect(refused).toMatchObject({ status: 422, type: problem(code), part: field });
    expect(refused.detail).toContain('no valid UTF-8');
  });

  it.each(['policy', 'products', 'site', 'measured', 'waivers'] as const)(
    '%s may have as many bytes as documentBytes, and no more',
    async (field) => {
      const texts = {
        policy: '{}',
        products: 'productId,currentMa\n',
        site: '{}',
        measured: 'segment,quantity,supplyId,measured\n',
        waivers: 'waivers: []\n',
      };
      const text = texts[field];
      const most = text.padEnd(LIMITS.documentBytes, '\n');
      await reportOf({ [field]: most });
      const refused = await problemOf(await send({ [field]: `${most}\n` }));
      expect(refused).toMatchObject({ status: 413, type: problem('limit-exceeded') });
      expect(refused.detail).toContain('the limit documentBytes is 2000');
    },
  );

  it('baseline is bounded by uploadBytes instead', async () => {
    const baseline = formatJson({ ...report, segments: [], coverage: [] });
    expect(baseline.length).toBeGreaterThan(LIMITS.documentBytes);
    expect((await reportOf({ baseline })).findings.every(({ sinceBaseline }) => sinceBaseline !== null)).toBe(true);
  });

  it.each(['before', 'after'])(
    '%s the archive counts with it: together they are bounded by uploadBytes',
    async (where) => {
      const policy = '{}'.padEnd(1000);
      const bodyOf = (archive: Buffer) => filesForm(where === 'before' ? { policy, archive } : { archive, policy });
      const filled = (bytes: number) => Buffer.concat([school, Buffer.alloc(bytes - school.length)]);
      const answerTo = (bytes: number) => upload(server.url, bodyOf(filled(bytes)), FORM).then(problemOf);
      // As an archive it is none, with so much behind its end; that is found once all has been read.
      expect((await answerTo(LIMITS.uploadBytes - 1000)).type).not.toBe(problem('limit-exceeded'));
      const refused = await answerTo(LIMITS.uploadBytes - 999);
      expect(refused).toMatchObject({ status: 413, type: problem('limit-exceeded') });
      expect(refused.detail).toContain('the limit uploadBytes is 800000');
    },
  );

  it('without an archive is not enough', async () => {
    const refused = await problemOf(await upload(server.url, filesForm({ policy: '{}' }), FORM));
    expect(refused).toMatchObject({ status: 400, detail: 'the form has no file in the field "archive"' });
  });
});

describe('an address', () => {
  it.each([
    ['?fromat=json', 'the address takes format, policy, asOf, archiveName, lang, not "fromat"'],
    ['?__proto__=a', 'the address takes format, policy, asOf, archiveName, lang, not "__proto__"'],
    ['?format=json&format=text', 'format stands in the address more than once'],
    ['?format=pdf', `format takes ${FORMAT_NAMES.join(', ')}, not "pdf"`],
    ['?format=constructor', `format takes ${FORMAT_NAMES.join(', ')}, not "constructor"`],
    ['?format', `format takes ${FORMAT_NAMES.join(', ')}, not ""`],
    ['?policy=lenient', 'policy takes common-practice, conservative, standard, not "lenient"'],
    ['?asOf=2027-02-29', 'asOf takes a day such as 2027-03-31, not "2027-02-29"'],
    ['?asOf=31.03.2027', 'asOf takes a day such as 2027-03-31, not "31.03.2027"'],
    ['?asOf=2027-03-31T00:00', 'asOf takes a day such as 2027-03-31, not "2027-03-31T00:00"'],
    ['?archiveName=', 'archiveName takes 1 to 500 printable characters'],
    ['?archiveName=a%0Ab', 'archiveName takes 1 to 500 printable characters'],
    ['?archiveName=a%E2%80%AEb', 'archiveName takes 1 to 500 printable characters'], // U+202E, which turns what follows
    [`?archiveName=${'a'.repeat(501)}`, 'archiveName takes 1 to 500 printable characters'],
  ])('with %s is refused before the body is read', async (query, detail) => {
    const refused = await problemOf(await upload(server.url, 'no archive', ZIP, query));
    expect(refused).toMatchObject({ status: 400, type: problem('malformed-request'), detail });
  });

  it('asks for a format before the header does', async () => {
    const answer = await upload(server.url, school, { ...ZIP, accept: 'text/html' }, '?format=text');
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'text/plain; charset=utf-8']);
  });

  it('takes a name of 500 characters', async () => {
    const answer = await upload(server.url, school, ZIP, `?format=code-quality&archiveName=${'a'.repeat(500)}`);
    expect((await answer.text()).split(`"path": "${'a'.repeat(500)}"`).length - 1).toBe(report.findings.length);
  });
});

async function bytesOf(answer: Response): Promise<Buffer> {
  return Buffer.from(await answer.arrayBuffer());
}

describe.each(FORMAT_NAMES)('the format %s', (name) => {
  const { mediaType, format } = FORMATS[name];
  const type = mediaType.startsWith('application/vnd.openxmlformats') ? mediaType : `${mediaType}; charset=utf-8`;
  const archive = 'plans/Südflügel & Aula.bin';

  it('has the bytes that it has in the code', async () => {
    const query = `?format=${name}&archiveName=${encodeURIComponent(archive)}`;
    const answer = await send({ policy: 'targetLoad: 0.7' }, query);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, type]);
    const policy = await readPolicy('targetLoad: 0.7', 'policy');
    expect(await bytesOf(answer)).toEqual(Buffer.from(await format(await audit(school, { policy }), { archive })));
  });

  it('is what Accept gets by its media type, or another of that type before it', async () => {
    const first = FORMAT_NAMES.find((one) => FORMATS[one].mediaType === mediaType) ?? name;
    const answer = await upload(server.url, school, { ...ZIP, accept: mediaType });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, type]);
    expect(await bytesOf(answer)).toEqual(Buffer.from(await FORMATS[first].format(report, { archive: 'archive' })));
  });
});

describe('a spreadsheet', () => {
  it('is sent whole, to be saved under a name of ours', async () => {
    const answer = await upload(server.url, school, ZIP, '?format=xlsx-schedule&archiveName=a%22%3B%20b.zip');
    const { headers } = answer;
    expect(headers.get('content-disposition')).toBe('attachment; filename="supply-schedule.xlsx"');
    expect(Number(headers.get('content-length'))).toBe((await bytesOf(answer)).length);
  });

  it('is the only format with a name', async () => {
    const answer = await upload(server.url, school, ZIP, '?format=csv-schedule');
    expect(answer.headers.get('content-disposition')).toBeNull();
  });
});
