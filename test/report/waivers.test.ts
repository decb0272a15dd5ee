import { beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { readPolicy } from '../../src/policy/effective.js';
import type { Policy } from '../../src/policy/policy.js';
import type { Waiver } from '../../src/policy/waivers.js';
import { type Report, type ReportFinding, type ReportMeasure, reportSchema } from '../../src/report/report.js';
import { applyWaivers } from '../../src/report/waivers.js';
import { RULES } from '../../src/rules/index.js';
import { fixtureArchive } from '../support/archives.js';
import { waiver } from '../support/waivers.js';

const TODAY = '2027-06-30';
const school = async (severities: Policy['severities'] = {}) =>
  audit(await fixtureArchive('school'), { policy: await readPolicy(JSON.stringify({ severities }), 'policy') });

let report: Report;
beforeAll(async () => {
  report = await school();
});

const findingOf = (rule: string, { findings }: Report = report) => {
  const found = findings.find((one) => one.rule === rule);
  if (found === undefined) throw new Error(`the school has no finding of ${rule}`);
  return found;
};

/** A waiver of a finding, until today. */
const accepting = ({ fingerprint, rule }: ReportFinding, more: Partial<Waiver> = {}) =>
  waiver({ fingerprint, rule: rule as Waiver['rule'], expires: TODAY, ...more });

/** The findings about waivers, and the one that they are about. */
function outcome(rule: string, more: Partial<Waiver>, asOf = TODAY, of = report) {
  const finding = findingOf(rule, of);
  const { findings, summary } = applyWaivers(of, [accepting(finding, more)], asOf);
  const same = findings.find(({ fingerprint }) => fingerprint === finding.fingerprint);
  return {
    isWaived: same?.waiver !== null,
    waived: summary.waived,
    told: findings.filter(({ subject }) => subject.kind === 'waiver').map((one) => one.rule),
  };
}

const IN_FORCE = { isWaived: true, waived: 1, told: [] };
const told = (rule: string) => ({ isWaived: false, waived: 0, told: [rule] });

describe('a report without waivers', () => {
  it('is given back as it is', () => {
    expect(applyWaivers(report, [], TODAY)).toBe(report);
    expect([report.asOf, report.summary.waived]).toEqual([null, 0]);
    expect(report.coverage.filter(({ rule }) => rule.startsWith('waiver-'))).toEqual([]);
  });
});

describe('a finding that a waiver is for', () => {
  it('is marked, keeps its place, and is counted as waived alone', () => {
    const finding = findingOf('overloaded-segment');
    const entry = accepting(finding, { accepted: '113.4 %', raiseAbove: '115 %' });
    const before = structuredClone(report);
    const applied = applyWaivers(report, [entry], TODAY);
    const { reason, author, expires } = entry;
    const mark = { reason, author, expires, accepted: '113.4 %', raiseAbove: '115 %' };
    expect(applied.findings).toEqual(report.findings.map((one) => (one === finding ? { ...one, waiver: mark } : one)));
    const { findings, ...rest } = report.summary;
    expect(applied.summary).toEqual({
      ...rest,
      findings: { ...findings, error: (findings.error ?? 0) - 1 },
      waived: 1,
    });
    expect(applied.asOf).toBe(TODAY);
    expect(report).toEqual(before); // pure
    expect(reportSchema.parse(applied)).toEqual(applied);
  });

  it('is marked with nothing accepted where the waiver names no figure', () => {
    const finding = findingOf('missing-supply');
    const { findings } = applyWaivers(report, [accepting(finding)], TODAY);
    const marked = findings.find(({ fingerprint }) => fingerprint === finding.fingerprint);
    expect(marked?.waiver).toMatchObject({ accepted: null, raiseAbove: null });
  });

  it('may be any: with one waiver for each, nothing is left to count, and nothing is said', () => {
    const applied = applyWaivers(
      report,
      report.findings.map((one) => accepting(one)),
      TODAY,
    );
    expect(applied.summary).toMatchObject({
      findings: { error: 0, warning: 0, note: 0 },
      waived: report.findings.length,
    });
    expect(applied.findings.map(({ fingerprint }) => fingerprint)).toEqual(
      report.findings.map(({ fingerprint }) => fingerprint),
    );
  });

  it('is every one of several with its fingerprint that is no worse than accepted', () => {
    const finding = findingOf('duplicate-address');
    const worse = { ...finding, measure: { ...finding.measure, value: 3 } };
    const both = { ...report, findings: [finding, worse] };
    const { findings, summary } = applyWaivers(both, [accepting(finding, { accepted: '2 devices' })], TODAY);
    expect(findings.map(({ rule, waiver: mark }) => [rule, mark !== null])).toEqual([
      ['duplicate-address', true],
      ['duplicate-address', false],
      ['waiver-outgrown', false],
    ]);
    expect(summary).toMatchObject({ waived: 1, findings: { error: 1, warning: 1, note: 0 } });
  });
});

describe('the last day of a waiver', () => {
  it.each([
    ['2027-06-30', '2027-06-29'],
    ['2027-06-30', '2027-06-30'],
    ['2028-02-29', '2028-02-29'],
    ['2027-02-28', '2027-02-28'],
    ['2027-12-31', '2027-12-31'],
    ['9999-12-31', '2027-01-01'],
  ])('%s still counts on %s', (expires, asOf) => {
    expect(outcome('low-headroom', { expires }, asOf)).toEqual(IN_FORCE);
  });

  it.each([
    ['2027-06-30', '2027-07-01', 1],
    ['2028-02-28', '2028-02-29', 1],
    ['2028-02-29', '2028-03-01', 1],
    ['2028-02-28', '2028-03-01', 2],
    ['2027-02-28', '2027-03-01', 1],
    ['2027-12-31', '2028-01-01', 1],
    ['2027-10-30', '2027-11-01', 2], // clocks go back between the two in much of Europe
    ['2027-06-30', '2028-06-30', 366],
  ])('%s counts no more on %s, %i days later', (expires, asOf, days) => {
    expect(outcome('low-headroom', { expires }, asOf)).toEqual(told('waiver-expired'));
    const { findings } = applyWaivers(report, [accepting(findingOf('low-headroom'), { expires })], asOf);
    expect(findings.find(({ rule }) => rule === 'waiver-expired')?.measure).toMatchObject({
      value: days,
      limit: 0,
      margin: -days,
    });
  });

  it('is looked at before the figure, and no more where nothing is found', () => {
    const expires = '2027-06-29';
    expect(outcome('low-headroom', { expires, accepted: '1 %' })).toEqual(told('waiver-expired'));
    const gone = applyWaivers(report, [waiver({ expires })], TODAY).findings;
    expect(gone.filter(({ subject }) => subject.kind === 'waiver').map(({ rule }) => rule)).toEqual(['waiver-unused']);
  });
});

/** The school with another figure in its finding of low headroom. */
function withMeasure(measure: Partial<ReportMeasure>): Report {
  const finding = findingOf('low-headroom');
  const changed = { ...finding, measure: { ...finding.measure, ...measure } };
  return { ...report, findings: report.findings.map((one) => (one === finding ? changed : one)) };
}

describe('the figure that was accepted', () => {
  const judgedWith = (measure: Partial<ReportMeasure>, more: Partial<Waiver>) =>
    outcome('low-headroom', more, TODAY, withMeasure(measure));

  it.each([
    ['84 %', { share: 0.84 }],
    ['84.0 %', { share: 0.84 }],
    ['84%', { share: 0.28 * 3 }], // 0.8400000000000001
    ['84 %', { share: 0.840000004 }],
    ['84 %', { share: 0.5 }],
    ['0 %', { share: 0 }],
    ['540 mA', { value: 540 }],
    ['540 MA', { value: 540, share: null }],
    ['0.3 mA', { value: 0.1 + 0.2 }],
    ['-8 mA', { value: -8 }],
    ['3 device', { value: 3, unit: 'devices' }],
    ['1 supply', { value: 1, unit: 'supplies' }],
    ['2 devices', { value: 2, unit: 'devices', holds: 'below' }],
    ['2 couplers', { value: 2, unit: 'couplers', holds: 'at least' }],
    ['2 couplers', { value: 3, unit: 'couplers', holds: 'at least' }],
  ] as const)('%s covers %j', (accepted, measure) => {
    expect(judgedWith(measure, { accepted })).toEqual(IN_FORCE);
  });

  it.each([
    ['84 %', { share: 0.84000001 }],
    ['84 %', { share: 0.9 }],
    ['540 mA', { value: 540.001 }],
    ['-8 mA', { value: -7.999 }],
    ['3 devices', { value: 4, unit: 'devices' }],
    ['2 devices', { value: 3, unit: 'devices', holds: 'below' }],
    ['2 couplers', { value: 1, unit: 'couplers', holds: 'at least' }],
    ['-8 mA', { value: -8.001, holds: 'at least' }],
  ] as const)('%s is outgrown by %j', (accepted, measure) => {
    expect(judgedWith(measure, { accepted })).toEqual(told('waiver-outgrown'));
  });

  it.each([
    ['84 %', { share: null }],
    ['540 A', { value: 1 }],
    ['3 devices', { value: 1, unit: 'supplies' }],
    ['540 mA', { value: null }],
    ['84 %', { value: null, share: null }],
  ] as const)('%s cannot be held against %j, so it does not count', (accepted, measure) => {
    expect(judgedWith(measure, { accepted })).toEqual(told('waiver-outgrown'));
  });

  it.each([
    ['90 %', 0.9, IN_FORCE],
    ['90 %', 0.91, told('waiver-outgrown')],
    ['80 %', 0.84, told('waiver-outgrown')],
  ])('gives way to raiseAbove %s', (raiseAbove, share, expected) => {
    expect(judgedWith({ share }, { accepted: '84 %', raiseAbove })).toEqual(expected);
  });

  it('is measured as a finding, with the limit of the waivers file', () => {
    const finding = findingOf('low-headroom'); // 141.5 of 160 mA: 88.4375 %, see fixtures/school.md
    const { findings } = applyWaivers(report, [accepting(finding, { accepted: '84 %' })], TODAY);
    expect(findings.find(({ rule }) => rule === 'waiver-outgrown')).toMatchObject({
      severity: 'warning',
      project: finding.project,
      installation: finding.installation,
      subject: { kind: 'waiver', id: finding.fingerprint, label: '1.1' },
      segments: finding.segments,
      restsOn: finding.restsOn,
      location: finding.location,
      waiver: null,
      measure: {
        ...{ quantity: 'load', unit: '%', value: 88.4375, limit: 84, holds: 'at most', margin: -4.4375 },
        limitFrom: { setBy: 'waivers file', key: null },
      },
      message: expect.stringContaining('up to 84 %; now it is 88.5 %'),
    });
  });
});

describe('a waiver for nothing', () => {
  it('is told at the first installation, by its own fingerprint', () => {
    const { findings, summary } = applyWaivers(report, [waiver()], TODAY);
    const [project] = report.projects;
    const found = findings.filter(({ rule }) => rule === 'waiver-unused');
    expect(found).toMatchObject([
      {
        severity: 'note',
        project: project?.id,
        installation: project?.installations[0]?.number,
        subject: { kind: 'waiver', id: waiver().fingerprint, label: '1.1' },
        segments: [],
        location: { part: project?.installations[0]?.part, line: null },
        message: expect.stringContaining('no finding has its fingerprint'),
      },
    ]);
    expect(summary.findings.note).toBe((report.summary.findings.note ?? 0) + 1);
    expect(findings.map(({ fingerprint }) => fingerprint).filter((one) => one === found[0]?.fingerprint)).toHaveLength(
      1,
    );
  });

  it('is one whose rule is another, and stands where that finding stands', () => {
    const finding = findingOf('low-headroom');
    const { findings } = applyWaivers(report, [accepting(finding, { rule: 'overloaded-segment' })], TODAY);
    expect(findings.find(({ fingerprint }) => fingerprint === finding.fingerprint)?.waiver).toBeNull();
    expect(findings.filter(({ rule }) => rule === 'waiver-unused')).toMatchObject([
      { location: finding.location, message: expect.stringContaining('is of the rule low-headroom') },
    ]);
  });

  it('is one whose rule the policy has off', async () => {
    const entry = accepting(findingOf('low-headroom'));
    const { findings } = applyWaivers(await school({ 'low-headroom': 'off' }), [entry], TODAY);
    const [found] = findings.filter(({ rule }) => rule === 'waiver-unused');
    expect(found?.message).toContain('the policy has the rule off');
  });

  it('is nothing that can be said where its rule failed', async () => {
    const rules = RULES.map((rule) => (rule.id === 'low-headroom' ? { ...rule, check: () => raise() } : rule));
    const failed = await audit(await fixtureArchive('school'), { rules: rules as unknown as typeof RULES });
    const { findings } = applyWaivers(failed, [accepting(findingOf('low-headroom')), waiver()], TODAY);
    expect(findings.filter(({ subject }) => subject.kind === 'waiver')).toEqual([]);
  });
});

function raise(): never {
  throw new Error('boom');
}

describe('the rules about waivers', () => {
  /** One waiver for each of them. */
  const all = () => [
    accepting(findingOf('overloaded-segment'), { expires: '2027-06-29' }),
    accepting(findingOf('low-headroom'), { accepted: '84 %' }),
    waiver(),
  ];
  const ownCoverage = ({ coverage }: Report) => coverage.filter(({ rule }) => rule.startsWith('waiver-'));

  it('end once each, on the first installation, and count no check of the plant', () => {
    const applied = applyWaivers(report, all(), TODAY);
    const [project] = report.projects;
    const at = { project: project?.id, installation: project?.installations[0]?.number, segment: null, missing: null };
    expect(ownCoverage(applied)).toEqual([
      { rule: 'waiver-expired', ...at, status: 'found' },
      { rule: 'waiver-outgrown', ...at, status: 'found' },
      { rule: 'waiver-unused', ...at, status: 'found' },
    ]);
    expect(applied.summary.checks).toBe(report.summary.checks);
    const passed = applyWaivers(report, [accepting(findingOf('low-headroom'))], TODAY);
    expect(ownCoverage(passed).map(({ status }) => status)).toEqual(['passed', 'passed', 'passed']);
    expect(reportSchema.parse(applied)).toEqual(applied);
  });

  it('put their findings where severity and order of the rules want them', () => {
    const order = ['error', 'warning', 'note'];
    const ids: string[] = RULES.map(({ id }) => id);
    const ranks = applyWaivers(report, all(), TODAY).findings.map(
      ({ severity, rule }) => order.indexOf(severity) * ids.length + ids.indexOf(rule),
    );
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    expect(ranks).toHaveLength(report.findings.length + 3);
  });

  it('weigh what the policy wants', async () => {
    const strict = await school({ 'waiver-expired': 'error', 'waiver-unused': 'warning' });
    const { findings, summary } = applyWaivers(strict, all(), TODAY);
    expect(findings.flatMap(({ rule, severity }) => (rule.startsWith('waiver-') ? [[rule, severity]] : []))).toEqual([
      ['waiver-expired', 'error'],
      ['waiver-outgrown', 'warning'],
      ['waiver-unused', 'warning'],
    ]);
    expect(summary.findings.error).toBe((report.summary.findings.error ?? 0) + 1);
  });

  it('say nothing where the policy has them off; what they would say of does not count all the same', async () => {
    const silent = await school({ 'waiver-expired': 'off', 'waiver-outgrown': 'off', 'waiver-unused': 'off' });
    const applied = applyWaivers(silent, all(), TODAY);
    expect(applied.findings).toEqual(silent.findings);
    expect(ownCoverage(applied).map(({ status }) => status)).toEqual(['off', 'off', 'off']);
  });

  it('cannot be waived themselves', () => {
    const own = applyWaivers(report, all(), TODAY).findings.filter(({ subject }) => subject.kind === 'waiver');
    const waivers = own.map(({ fingerprint, rule }) => waiver({ fingerprint, rule: rule as Waiver['rule'] }));
    const { findings, summary } = applyWaivers(report, [...all(), ...waivers], TODAY);
    expect(summary.waived).toBe(0);
    expect(findings.filter(({ rule }) => rule === 'waiver-unused')).toHaveLength(1 + own.length);
  });
});
