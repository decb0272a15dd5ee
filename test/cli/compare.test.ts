import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { EXIT, exitCodeOf, exitCodeOfComparison, FAIL_ON, type FailOn } from '../../src/cli/exit-code.js';
import { USAGE } from '../../src/cli/usage.js';
import { compare } from '../../src/compare.js';
import { builtIn, readPolicy } from '../../src/policy/effective.js';
import { compareReports } from '../../src/report/compare/compare.js';
import { COMPARISON_FORMATS } from '../../src/report/compare/formats.js';
import { comparisonSentence } from '../../src/report/compare/text.js';
import { formatJson } from '../../src/report/format/json.js';
import type { Report, ReportFinding } from '../../src/report/report.js';
import { schoolReport, schoolWith, withLargerSupply, withoutPushButton } from '../support/edited.js';
import { linebudget } from '../support/linebudget.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);
const POLICY = 'targetLoad: 0.7\n';

let school: Buffer;
let mended: Buffer;
let before: Report;
let after: Report;

beforeAll(async () => {
  school = await schoolWith();
  mended = await schoolWith(withoutPushButton, withLargerSupply);
  before = await audit(school);
  after = await audit(mended);
  writeFileSync(at('old'), school);
  writeFileSync(at('new'), mended);
  writeFileSync(at('old.json'), formatJson(before));
  writeFileSync(at('new.json'), `\r\n\t ${formatJson(after)}`);
  writeFileSync(at('policy.yaml'), POLICY);
  writeFileSync(at('letter'), 'Dear planner');
  writeFileSync(at('other.json'), '{"reportVersion": 7}');
});

afterAll(() => rmSync(folder, { recursive: true }));

const { json, text } = COMPARISON_FORMATS;

describe('linebudget compare', () => {
  it('of two archives prints the comparison as text, and a sentence beside', async () => {
    const comparison = await compare({ old: school, new: mended });
    expect(await linebudget('compare', at('old'), at('new'))).toEqual({
      code: 0,
      signal: null,
      stdout: text.format(comparison),
      stderr: `${comparisonSentence(comparison)}\n`,
    });
  });

  it.each([
    ['two reports', 'old.json', 'new.json'],
    ['an archive and a report', 'old', 'new.json'],
    ['a report and an archive', 'old.json', 'new'],
  ])('of %s prints the comparison of the reports', async (_, old, fresh) => {
    const { code, stdout } = await linebudget('compare', at(old), at(fresh), '--format', 'json');
    expect([code, stdout]).toEqual([0, json.format(compareReports(before, after))]);
  });

  it('with --out writes it into a file, and nothing else', async () => {
    const out = at('comparison.json');
    const { code, stdout } = await linebudget(
      'compare',
      at('new.json'),
      at('old.json'),
      '--format',
      'json',
      '--out',
      out,
    );
    expect([code, stdout]).toEqual([1, '']);
    expect(readFileSync(out, 'utf8')).toBe(json.format(compareReports(after, before)));
  });

  it.each([
    ['--policy for both', ['--policy', 'FILE'], 'file', 'file'],
    ['--old-policy', ['--old-policy', 'FILE'], 'file', 'common-practice'],
    ['--new-policy', ['--new-policy', 'conservative'], 'common-practice', 'conservative'],
    ['one that goes before --policy', ['--policy', 'FILE', '--new-policy', 'standard'], 'file', 'standard'],
  ] as const)('judges archives by %s', async (_, args, old, fresh) => {
    const fromFile = await readPolicy(POLICY, at('policy.yaml'));
    const policyOf = (name: typeof old | typeof fresh) => (name === 'file' ? fromFile : builtIn(name));
    const expected = await compare({
      old: school,
      new: mended,
      oldPolicy: policyOf(old),
      newPolicy: policyOf(fresh),
    });
    const given = args.map((arg) => (arg === 'FILE' ? at('policy.yaml') : arg));
    const { stdout } = await linebudget('compare', at('old'), at('new'), '--format', 'json', ...given);
    expect(stdout).toBe(json.format(expected));
  });
});

describe('linebudget compare refuses', () => {
  const judged = () =>
    'a report was judged already when it was made; a policy, a site sheet and waivers take two project archives';
  it.each<[string, string[], () => string]>([
    ['a policy for a report', [at('old'), at('new.json'), '--policy', 'standard'], judged],
    ['a policy for the other side', [at('old.json'), at('new'), '--new-policy', 'standard'], judged],
    ['a file that is missing', [at('missing'), at('new')], () => `${at('missing')} cannot be read (ENOENT)`],
    ['a folder', [at('old'), folder], () => `${folder} cannot be read (EISDIR)`],
    [
      'a policy that is missing',
      [at('old'), at('new'), '--policy', at('no')],
      () => `--policy ${at('no')} cannot be read (ENOENT)`,
    ],
    ['a policy that is none', [at('old'), at('new'), '--policy', at('letter')], () => `"${at('letter')}": `],
    ['what is no archive', [at('old'), at('letter')], () => 'new archive: the file is not a ZIP archive; '],
    [
      'what is no archive beside a report',
      [at('letter'), at('new.json')],
      () => 'old archive: the file is not a ZIP archive; ',
    ],
    [
      'a report of another version',
      [at('old'), at('other.json')],
      () => `"new report": it is a report of version 7; version 1 is read [invalid-baseline]`,
    ],
    [
      'a file over the limit',
      [at('old'), at('new'), '--limit', 'uploadBytes=100'],
      () => `${at('old')}: the archive has more than 100 bytes; the limit uploadBytes is 100 [limit-exceeded]`,
    ],
  ])('%s', async (_, args, problem) => {
    const { code, stdout, stderr } = await linebudget('compare', ...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr.startsWith(`linebudget: ${problem()}`), stderr).toBe(true);
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
  });

  it.each([
    [[], 'name two project archives or JSON reports, the older one first'],
    [['a'], 'name two project archives or JSON reports, the older one first'],
    [['a', 'b', 'c'], 'name two project archives or JSON reports, the older one first'],
    [['a', 'b', '--format', 'pdf'], '--format takes json, text, not "pdf"'],
    [['a', 'b', '--fail-on', 'error'], '--fail-on takes new, new:error, new:warning, new:note, never, not "error"'],
    [['a', 'b', '--fail-on', 'new:'], '--fail-on takes new, new:error, new:warning, new:note, never, not "new:"'],
  ])('the call %j, and shows the usage', async (args, problem) => {
    const { code, stdout, stderr } = await linebudget('compare', ...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toBe(`linebudget: ${problem}\n\n${USAGE}\n`);
  });
});

describe('--fail-on of a comparison', () => {
  it.each<[string | undefined, number]>([
    [undefined, 1],
    ['new', 1],
    ['new:error', 1],
    ['never', 0],
  ])('%s ends with %d where an error is new', async (failOn, code) => {
    const args = failOn === undefined ? [] : ['--fail-on', failOn];
    expect((await linebudget('compare', at('new.json'), at('old.json'), ...args)).code).toBe(code);
  });

  const one = (severity: ReportFinding['severity'], change: Partial<ReportFinding> = {}): ReportFinding => {
    const [first] = before.findings;
    if (first === undefined) throw new Error('no finding');
    return { ...first, severity, ...change };
  };
  const withFindings = (...findings: ReportFinding[]): Report => ({ ...before, findings });
  const waiver = { reason: 'r', author: 'a', expires: '2026-12-31', accepted: null, raiseAbove: null };
  const codes = (old: Report, fresh: Report) =>
    (['new', 'new:error', 'new:warning', 'new:note', 'never'] as const).map((failOn) =>
      exitCodeOfComparison(compareReports(old, fresh), failOn),
    );

  it.each<[string, () => [Report, Report], number[]]>([
    ['nothing', () => [withFindings(one('error')), withFindings(one('error'))], [0, 0, 0, 0, 0]],
    ['a new error', () => [withFindings(), withFindings(one('error'))], [1, 1, 1, 1, 0]],
    ['a new warning', () => [withFindings(), withFindings(one('warning'))], [0, 0, 1, 1, 0]],
    ['a new note', () => [withFindings(), withFindings(one('note'))], [0, 0, 0, 1, 0]],
    ['a new error that is waived', () => [withFindings(), withFindings(one('error', { waiver }))], [0, 0, 0, 0, 0]],
    ['a note that is a warning now', () => [withFindings(one('note')), withFindings(one('warning'))], [0, 0, 1, 1, 0]],
    [
      'an error that is a warning now',
      () => [withFindings(one('error')), withFindings(one('warning'))],
      [0, 0, 0, 0, 0],
    ],
    ['an error less', () => [withFindings(one('error')), withFindings()], [0, 0, 0, 0, 0]],
    [
      'an error that is waived no longer',
      () => [withFindings(one('error', { waiver })), withFindings(one('error'))],
      [1, 1, 1, 1, 0],
    ],
  ])('counts %s', (_, reports, expected) => {
    expect(codes(...reports())).toEqual(expected);
  });

  it('is 3 where either audit failed or checked nothing', () => {
    for (const change of [{ complete: false }, { checks: 0 }]) {
      const bad = { ...before, summary: { ...before.summary, ...change } };
      expect([...codes(bad, before), ...codes(before, bad)]).toEqual(Array(10).fill(EXIT.fault));
    }
  });
});

describe('the exit code of an audit', () => {
  const states = ['new', 'worsened', 'improved', 'unchanged', null] as const;
  const waiver = { reason: 'r', author: 'a', expires: '2026-12-31', accepted: null, raiseAbove: null };
  const reportOf = (finding: Partial<ReportFinding>) =>
    ({ summary: { complete: true, checks: 1 }, findings: [{ waiver: null, ...finding }] }) as unknown as Report;

  it.each<[FailOn, number[]]>([
    ['new', [1, 1, 0, 0, 1]],
    ['new:error', [1, 1, 0, 0, 1]],
    ['error', [1, 1, 1, 1, 1]],
    ['never', [0, 0, 0, 0, 0]],
  ])('with --fail-on %s counts an error by its state', (failOn, expected) => {
    const codes = states.map((sinceBaseline) => exitCodeOf(reportOf({ severity: 'error', sinceBaseline }), failOn));
    expect(codes).toEqual(expected);
  });

  it('counts from the severity on', () => {
    const codes = (severity: ReportFinding['severity']) =>
      FAIL_ON.map((failOn) => exitCodeOf(reportOf({ severity, sinceBaseline: 'new' }), failOn));
    expect(FAIL_ON).toEqual(['error', 'warning', 'note', 'new', 'new:error', 'new:warning', 'new:note', 'never']);
    expect(codes('error')).toEqual([1, 1, 1, 1, 1, 1, 1, 0]);
    expect(codes('warning')).toEqual([0, 1, 1, 0, 0, 1, 1, 0]);
    expect(codes('note')).toEqual([0, 0, 1, 0, 0, 0, 1, 0]);
  });

  it('never counts what is waived', () => {
    const waived = reportOf({ severity: 'error', sinceBaseline: 'new', waiver });
    expect(FAIL_ON.map((failOn) => exitCodeOf(waived, failOn))).toEqual(FAIL_ON.map(() => 0));
  });

  it('is 3 where nothing was checked, whatever fails', () => {
    const nothing = { summary: { complete: true, checks: 0 }, findings: [] } as unknown as Report;
    expect(FAIL_ON.map((failOn) => exitCodeOf(nothing, failOn))).toEqual(FAIL_ON.map(() => EXIT.fault));
  });

  it('of the school is told by its errors', async () => {
    expect(exitCodeOf(await schoolReport(), 'error')).toBe(EXIT.findings);
  });
});
