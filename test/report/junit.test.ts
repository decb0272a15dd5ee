import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { formatJunit } from '../../src/report/format/junit.js';
import type { Report, ReportFinding } from '../../src/report/report.js';
import { RULES } from '../../src/rules/index.js';
import { fixtureArchive } from '../support/archives.js';
import { FIXTURES_OF_FORMATS, hostileReport, reportOf, waived } from '../support/formats.js';

interface Told {
  readonly message: string;
  readonly type?: string;
  readonly '#text'?: string;
}

interface Case {
  readonly name: string;
  readonly classname: string;
  readonly failure?: readonly Told[];
  readonly error?: readonly Told[];
  readonly skipped?: readonly Told[];
  readonly 'system-out'?: readonly { readonly '#text': string }[];
}

interface Counts {
  readonly name: string;
  readonly tests: string;
  readonly failures: string;
  readonly errors: string;
  readonly skipped: string;
}

interface Suite extends Counts {
  readonly testcase?: readonly Case[];
}

const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseAttributeValue: false,
  parseTagValue: false,
  alwaysCreateTextNode: true,
  trimValues: false,
  htmlEntities: true,
  processEntities: { maxTotalExpansions: 1_000_000 },
  isArray: (name, _path, _isLeaf, isAttribute) => !isAttribute && name !== 'testsuites',
});

function read(report: Report): { whole: Counts; suites: Suite[] } {
  const text = formatJunit(report, { archive: 'plant' });
  expect(XMLValidator.validate(text)).toBe(true);
  const { testsuites } = parser.parse(text) as { testsuites: Counts & { testsuite?: Suite[] } };
  return { whole: testsuites, suites: testsuites.testsuite ?? [] };
}

const caseOf = (suites: readonly Suite[], suite: string, rule: string): Case => {
  const found = suites.find(({ name }) => name === suite)?.testcase?.find(({ name }) => name === rule);
  if (found === undefined) throw new Error(`there is no ${rule} in ${suite}`);
  return found;
};

/** The school with its findings changed. */
async function schoolWith(change: (finding: ReportFinding) => ReportFinding): Promise<Report> {
  const report = await reportOf('school');
  return { ...report, findings: report.findings.map(change) };
}

describe('the report as JUnit', () => {
  it.each(FIXTURES_OF_FORMATS)('of %s has a case for each entry of the coverage, and counts them', async (fixture) => {
    const report = await reportOf(fixture);
    const { whole, suites } = read(report);
    const cases = suites.flatMap(({ testcase = [] }) => testcase);
    expect(cases).toHaveLength(report.coverage.length);
    expect(suites).toHaveLength(report.segments.length + 1);
    for (const { testcase = [], ...counts } of suites) expect(countsOf(testcase)).toEqual(picked(counts));
    expect(countsOf(cases)).toEqual(picked(whole));
    expect(Number(whole.skipped)).toBe(report.coverage.filter(({ status }) => status === 'skipped').length);
  });

  it('fails a rule on the segment that it finds something on', async () => {
    const { suites } = read(await reportOf('school'));
    const [failure, ...more] = caseOf(suites, '1.2', 'overloaded-segment').failure ?? [];
    expect(more).toEqual([]);
    expect(failure).toMatchObject({
      type: 'error',
      message: expect.stringMatching(/^Line 1\.2 is charged with 362\.7 mA/),
    });
    expect(failure?.['#text']).toMatch(/^error: Line 1\.2 is charged with 362\.7 mA.*\nReplace or split: /);
    expect(caseOf(suites, '1.1', 'overloaded-segment')).toEqual({
      name: 'overloaded-segment',
      classname: '1.1',
      '#text': '',
    });
  });

  it('puts several findings of a rule on a segment into one case, and one of several segments into each', async () => {
    const { suites } = read(await reportOf('school'));
    // fixtures/school.md: current-implausible three times on 2.1; duplicate-address twice on both segments of 1.3
    expect(caseOf(suites, '2.1', 'current-implausible').failure?.[0]?.['#text']?.match(/^warning: /gm)).toHaveLength(3);
    for (const label of suites.map(({ name }) => name).filter((name) => name.startsWith('1.3'))) {
      expect(caseOf(suites, label, 'duplicate-address').failure?.[0]?.['#text']?.match(/^error: /gm)).toHaveLength(2);
    }
  });

  it('lets notes and what is waived pass, and tells of them', async () => {
    const { suites } = read(await reportOf('school'));
    const note = caseOf(suites, '2.2', 'oversized-supply');
    expect(note.failure).toBeUndefined();
    expect(note['system-out']?.[0]?.['#text']).toMatch(/^note: /);
    const { whole, suites: accepted } = read(await schoolWith(waived));
    expect(whole.failures).toBe('0');
    expect(caseOf(accepted, '1.2', 'overloaded-segment')['system-out']?.[0]?.['#text']).toMatch(
      /\nWaived until 2031-05-31 by planner: checked on site$/,
    );
  });

  it('fails where one of several findings is not waived, and tells of the others beside', async () => {
    let left = 1;
    const report = await schoolWith((finding) =>
      finding.rule === 'current-implausible' && left-- > 0 ? waived(finding) : finding,
    );
    const found = caseOf(read(report).suites, '2.1', 'current-implausible');
    expect(found.failure?.[0]?.['#text']?.match(/^warning: /gm)).toHaveLength(2);
    expect(found['system-out']?.[0]?.['#text']).toMatch(/Waived until/);
  });

  it('shows findings of no segment, or of one that is not there, with the installation', async () => {
    const { suites } = read(await reportOf('school'));
    expect(caseOf(suites, 'installation', 'device-unplaced')['system-out']?.[0]?.['#text']).toMatch(
      /stands on no line/,
    );
    const lost = await schoolWith((finding) => ({ ...finding, segments: ['nowhere'], severity: 'error' }));
    expect(caseOf(read(lost).suites, 'installation', 'overloaded-segment').failure).toHaveLength(1);
  });

  it('shows a finding of a rule without coverage', async () => {
    const report = { ...(await reportOf('school')), coverage: [] };
    expect(caseOf(read(report).suites, '1.2', 'overloaded-segment').failure).toHaveLength(1);
  });

  it('says why a rule was skipped', async () => {
    const report = await reportOf('school');
    const { suites } = read(report);
    const { missing } = report.coverage.find(({ status }) => status === 'skipped') ?? {};
    expect(caseOf(suites, '0.0', 'overloaded-segment').skipped?.[0]?.message).toBe(missing);
    const off = report.coverage.map((entry) => ({ ...entry, status: 'off' as const, missing: null }));
    const { whole, suites: none } = read({ ...report, findings: [], coverage: off });
    expect(whole.skipped).toBe(whole.tests);
    expect(caseOf(none, '1.2', 'overloaded-segment').skipped?.[0]?.message).toBe('off by the policy');
  });

  it('shows a rule that failed as an error, not as a failure', async () => {
    const [first, ...others] = RULES;
    const check = () => {
      throw new Error('boom');
    };
    const report = await audit(await fixtureArchive('house'), {
      rules: [{ ...first, check } as (typeof RULES)[number], ...others],
    });
    const { whole, suites } = read(report);
    expect(Number(whole.errors)).toBe(report.coverage.filter(({ status }) => status === 'failed').length);
    expect(caseOf(suites, '1.1', first?.id ?? '').error?.[0]?.message).toMatch(/fault of this tool/);
  });

  it('is a file where there is nothing', async () => {
    const report = await reportOf('house');
    const nothing: Report = { ...report, projects: [], segments: [], findings: [], coverage: [] };
    expect(read(nothing)).toMatchObject({ whole: { name: 'plant', tests: '0', failures: '0' }, suites: [] });
  });

  it('tells segments of several projects and installations apart, each by a name of its own', async () => {
    const report = await reportOf('house');
    const [project] = report.projects;
    const [segment] = report.segments;
    if (project === undefined || segment === undefined) throw new Error('the fixture has a project and a segment');
    const [installation] = project.installations;
    const installations = [0, 1].map((number) => ({ ...installation, number })) as typeof project.installations;
    const projects = ['A', 'B'].map((id) => ({ ...project, id, name: 'same', installations }));
    const segments = projects.flatMap(({ id }) =>
      installations.map(({ number }) => ({ ...segment, project: id, installation: number })),
    );
    const names = read({ ...report, projects, segments, findings: [], coverage: [] }).suites.map(({ name }) => name);
    const ofProject = (id: string) => [0, 1].flatMap((n) => [`${id} / ${n} / 1.1`, `${id} / ${n} / installation`]);
    expect(names).toEqual([...ofProject('A'), ...ofProject('B')]);
  });

  it('gives no name twice where segments are called alike', async () => {
    const report = await reportOf('house');
    const segments = ['x', 'x [2]', 'x', 'x', 'installation'].map((label, index) => ({
      ...(report.segments[0] as Report['segments'][number]),
      label,
      id: `S-${index}`,
    }));
    const names = read({ ...report, segments, findings: [], coverage: [] }).suites.map(({ name }) => name);
    expect(names).toEqual(['x', 'x [2]', 'x [3]', 'x [4]', 'installation', 'installation [2]']);
  });

  it('keeps hostile names in their place', async () => {
    const report = await hostileReport();
    const { suites, whole } = read(report);
    expect(suites).toHaveLength(report.segments.length + 1);
    expect(new Set(suites.map(({ name }) => name)).size).toBe(suites.length);
    expect(Number(whole.tests)).toBe(report.coverage.length);
    // XML 1.0, section 2.2: what is no Char may not stand in a document, nor be referred to
    expect(formatJunit(report, { archive: 'plant' })).not.toMatch(
      /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/u,
    );
  });

  it('is the same for the same report', async () => {
    const [once, again] = [await reportOf('school'), await reportOf('school')];
    expect(formatJunit(once, { archive: 'plant' })).toBe(formatJunit(again, { archive: 'plant' }));
  });
});

function countsOf(cases: readonly Case[]) {
  const having = (kind: 'failure' | 'error' | 'skipped') => cases.filter((one) => one[kind] !== undefined).length;
  const counts = {
    tests: cases.length,
    failures: having('failure'),
    errors: having('error'),
    skipped: having('skipped'),
  };
  return Object.fromEntries(Object.entries(counts).map(([name, count]) => [name, String(count)]));
}

function picked({ tests, failures, errors, skipped }: Omit<Counts, 'name'>) {
  return { tests, failures, errors, skipped };
}
