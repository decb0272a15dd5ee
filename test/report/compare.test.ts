import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { compareReports } from '../../src/report/compare/compare.js';
import { type Comparison, comparisonJsonSchema, comparisonSchema } from '../../src/report/compare/comparison.js';
import { COMPARISON_FORMATS } from '../../src/report/compare/formats.js';
import type { Report, ReportFinding } from '../../src/report/report.js';
import { countsOf, NO_CHANGES } from '../support/comparisons.js';
import {
  type Edit,
  renamed,
  renumbered,
  schoolReport,
  withLargerSupply,
  withoutPushButton,
} from '../support/edited.js';

const school = await schoolReport();
const mended = await schoolReport([withoutPushButton, withLargerSupply]);

/** A report with one of its findings changed. */
function withFinding(report: Report, rule: string, change: (finding: ReportFinding) => Partial<ReportFinding>): Report {
  const findings = report.findings.map((one) => (one.rule === rule ? { ...one, ...change(one) } : one));
  return { ...report, findings };
}

/** The findings of a rule, by what became of them. */
function statesOf(rule: string, { findings }: Comparison): string[] {
  const { unchanged, ...lists } = findings;
  return Object.entries(lists).flatMap(([state, changes]) =>
    changes.filter((change) => change.rule === rule).map(() => state),
  );
}

describe('the school against the school with a push button less and a larger supply', () => {
  const comparison = compareReports(school, mended);

  it('has two findings fixed, one improved and nothing else', () => {
    const { findings } = comparison;
    const shown = (changes: Comparison['findings']['new']) =>
      changes.map((change) => `${change.rule} ${change.subject} ${change.matchedBy} ${change.cause}`);
    expect(shown(findings.new)).toEqual([]);
    expect(shown(findings.fixed)).toEqual(['overloaded-segment 1.2 null null', 'fan-in-exceeded 1.2 null null']);
    expect(shown(findings.worsened)).toEqual([]);
    expect(shown(findings.improved)).toEqual(['low-headroom 1.4 identity null']);
    expect(findings.unchanged).toBe(school.findings.length - 3);
  });

  it('tells the figure before and after', () => {
    const [change] = comparison.findings.improved;
    expect(change?.old).toMatchObject({ severity: 'warning', waived: false, measure: { value: 141.5, margin: -13.5 } });
    expect(change?.new).toMatchObject({ severity: 'warning', waived: false, measure: { value: 136.5, margin: -8.5 } });
    expect(change?.message).toBe(mended.findings.find(({ rule }) => rule === 'low-headroom')?.message);
  });

  it('lists the two segments with their devices, and counts the others', () => {
    const [first, second, ...more] = comparison.segments;
    expect(more).toEqual([]);
    expect(comparison.segmentsUnchanged).toBe(16);
    expect(first).toMatchObject({
      matchedBy: 'identity',
      old: { label: '1.2', verdict: 'insufficient', loadMa: 362.7, capacityMa: 320 },
      new: { label: '1.2', verdict: 'sufficient', loadMa: 362.7, capacityMa: 1280 },
      devicesAdded: [],
      devicesRemoved: [],
      devicesChanged: [
        {
          old: { label: 'Supply 1.2', product: 'Bus power supply 320 mA', currentMa: null },
          new: { label: 'Supply 1.2', product: 'Bus power supply 1280 mA', currentMa: null },
        },
      ],
    });
    expect(second).toMatchObject({
      old: { label: '1.4', verdict: 'tight', loadMa: 141.5 },
      new: { label: '1.4', verdict: 'tight', loadMa: 136.5 },
      devicesAdded: [],
      devicesRemoved: [{ label: '1.4.10 Push button 1.05', product: 'Push button, 2 rockers', currentMa: 5 }],
      devicesChanged: [],
    });
  });

  it('says that only the archive differs, and which reports it is of', () => {
    expect(comparison.inputs).toEqual({ archive: 'differs', policy: 'same', site: 'same', tool: 'same', asOf: 'same' });
    expect([comparison.old.archiveSha256, comparison.new.archiveSha256]).toEqual([
      school.archive.sha256,
      mended.archive.sha256,
    ]);
  });

  it('is as its schema says', () => {
    expect(comparisonSchema.parse(comparison)).toEqual(comparison);
    const validate = new Ajv2020({ strict: false }).compile(comparisonJsonSchema());
    expect(validate(JSON.parse(COMPARISON_FORMATS.json.format(comparison))), JSON.stringify(validate.errors)).toBe(
      true,
    );
    expect(validate({ ...comparison, comparisonVersion: 2 })).toBe(false);
  });
});

describe('what differs between two audits', () => {
  it.each<[string, (report: Report) => Report]>([
    ['archive', (report) => ({ ...report, archive: mended.archive })],
    ['policy', (report) => ({ ...report, policy: { ...report.policy, sha256: '0'.repeat(64) } })],
    ['site', (report) => ({ ...report, site: { sha256: '0'.repeat(64) } })],
    ['tool', (report) => ({ ...report, tool: { ...report.tool, version: '0.0.9' } })],
    ['asOf', (report) => ({ ...report, asOf: '2026-01-31' })],
  ])('can be the %s alone', (input, change) => {
    const same = { archive: 'same', policy: 'same', site: 'same', tool: 'same', asOf: 'same' };
    expect(compareReports(school, change(school)).inputs).toEqual({ ...same, [input]: 'differs' });
  });
});

describe('segments', () => {
  it('that only one report has are listed as such', () => {
    const fewer = { ...school, segments: school.segments.slice(1) };
    const [gone] = school.segments;
    expect(compareReports(school, fewer).segmentsRemoved).toMatchObject([{ id: gone?.id, label: gone?.label }]);
    expect(compareReports(fewer, school).segmentsAdded).toMatchObject([{ id: gone?.id, label: gone?.label }]);
  });

  it('are told apart by installation', () => {
    const other = { ...school, segments: school.segments.map((one) => ({ ...one, installation: 1 })) };
    const { segmentsAdded, segmentsRemoved } = compareReports(school, other);
    expect([segmentsAdded.length, segmentsRemoved.length]).toEqual([18, 18]);
  });

  it('are told apart by project where there are several', () => {
    const [project] = school.projects;
    if (project === undefined) throw new Error('no project');
    const twice = (ids: readonly string[]): Report => ({
      ...school,
      projects: ids.map((id) => ({ ...project, id })),
      segments: ids.flatMap((id, index) =>
        school.segments.map((one) => ({ ...one, project: id, lineName: String(index), label: `${id} ${one.label}` })),
      ),
      findings: [],
    });
    expect(countsOf(compareReports(twice(['P-1', 'P-2']), twice(['P-2', 'P-1'])))).toEqual({
      ...NO_CHANGES,
      unchanged: 0,
    });
  });

  it('stay the same at another address', async () => {
    const readdressed: Edit = (text) => text.replace('L-7" Address="5"', 'L-7" Address="9"');
    const comparison = compareReports(school, await schoolReport([readdressed]));
    const labels = comparison.segments.map(({ matchedBy, old, new: now }) => [matchedBy, old.label, now.label]);
    expect(labels).toContainEqual(['identity', '1.5', '1.9']);
    expect([comparison.segmentsAdded, comparison.segmentsRemoved]).toEqual([[], []]);
    expect(comparison.findings.new).toEqual([]);
  });
});

describe('an archive whose ids are all others', () => {
  const edits: readonly Edit[] = [renumbered];

  it('is matched by line number, with nothing changed but what stands on no line', async () => {
    const comparison = compareReports(school, await schoolReport(edits));
    expect(comparison.segments).toEqual([]);
    expect(comparison.segmentsUnchanged).toBe(18);
    expect(comparison.findings.new.map(({ rule }) => rule)).toEqual(['device-unplaced', 'device-unplaced']);
    expect(comparison.findings.fixed.map(({ rule }) => rule)).toEqual(['device-unplaced', 'device-unplaced']);
    expect([comparison.findings.worsened, comparison.findings.improved]).toEqual([[], []]);
  });

  it('shows what did change, and says how it was matched', async () => {
    const { findings, segments } = compareReports(school, await schoolReport([withoutPushButton, ...edits]));
    expect(findings.improved.map(({ rule, matchedBy }) => [rule, matchedBy])).toEqual([
      ['low-headroom', 'line number'],
    ]);
    expect(segments).toMatchObject([
      { matchedBy: 'line number', devicesAdded: [], devicesRemoved: [{ label: '1.4.10 Push button 1.05' }] },
    ]);
  });
});

describe('an archive whose project alone is called otherwise', () => {
  it('is matched by identity, segments and devices', async () => {
    const { findings, segments } = compareReports(school, await schoolReport([withLargerSupply, renamed]));
    expect(findings.new).toEqual([]);
    expect(segments).toMatchObject([
      { matchedBy: 'identity', devicesAdded: [], devicesRemoved: [], devicesChanged: [{ matchedBy: 'identity' }] },
    ]);
  });
});

describe('a finding about a device', () => {
  it('is another one if the device is, though label and segment are the same', () => {
    const rule = 'supply-rating-unknown';
    const replaced = withFinding(school, rule, () => ({ fingerprint: 'of another device' }));
    expect(statesOf(rule, compareReports(school, replaced))).toEqual(['new', 'fixed']);
  });
});

describe('a finding in both reports', () => {
  const rule = 'low-headroom';
  const margin = (change: number) => (finding: ReportFinding) => ({
    measure: { ...finding.measure, margin: (finding.measure.margin ?? 0) + change },
  });
  const waived = () => ({
    waiver: { reason: 'r', author: 'a', expires: '2026-12-31', accepted: null, raiseAbove: null },
  });
  it.each<[string, (finding: ReportFinding) => Partial<ReportFinding>, string[]]>([
    ['of a greater severity has worsened', () => ({ severity: 'error' }), ['worsened']],
    ['of a lesser severity has improved', () => ({ severity: 'note' }), ['improved']],
    ['whose margin is smaller has worsened', margin(-0.001), ['worsened']],
    ['whose margin is greater has improved', margin(0.001), ['improved']],
    ['whose margin is the same but for rounding has not changed', margin(5e-10), []],
    ['of another quantity has not changed', (f) => ({ measure: { ...f.measure, quantity: 'other', margin: -99 } }), []],
    ['of another unit has not changed', (f) => ({ measure: { ...f.measure, unit: 'A', margin: -99 } }), []],
    ['whose margin nobody knows any more has not changed', (f) => ({ measure: { ...f.measure, margin: null } }), []],
    ['that is waived now has improved', waived, ['improved']],
    ['whose severity goes before its margin', (f) => ({ ...margin(-10)(f), severity: 'note' }), ['improved']],
    ['whose waiver goes before its margin', (f) => ({ ...margin(-10)(f), ...waived() }), ['improved']],
  ])('%s', (_, change, expected) => {
    const changed = withFinding(school, rule, change);
    const reverse = { worsened: 'improved', improved: 'worsened' } as Record<string, string>;
    expect(statesOf(rule, compareReports(school, changed))).toEqual(expected);
    expect(statesOf(rule, compareReports(changed, school))).toEqual(expected.map((state) => reverse[state]));
  });

  it('and waived no longer has worsened', () => {
    const { findings } = compareReports(withFinding(school, rule, waived), school);
    expect(findings.worsened).toMatchObject([{ rule, old: { waived: true }, new: { waived: false } }]);
  });
});

describe('two findings of one fingerprint', () => {
  it('go with one each', () => {
    const [first] = school.findings;
    if (first === undefined) throw new Error('no finding');
    const times = (n: number): Report => ({ ...school, findings: Array.from({ length: n }, () => ({ ...first })) });
    expect(countsOf(compareReports(times(2), times(3)))).toEqual({ ...NO_CHANGES, new: 1, unchanged: 2 });
    expect(countsOf(compareReports(times(3), times(2)))).toEqual({ ...NO_CHANGES, fixed: 1, unchanged: 2 });
  });
});
