import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BUILT_IN_FOR, COMMON_PRACTICE, POLICY_SOURCES } from '../../src/policy/built-in.js';
import { builtIn, policyDigest } from '../../src/policy/effective.js';
import type { PolicyKey } from '../../src/policy/policy.js';
import { RULE_IDS } from '../../src/policy/rule-ids.js';
import type { Report } from '../../src/report/report.js';
import { sourceText } from '../../src/rules/words.js';
import { fixtureArchive } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const archive = join(folder, 'school');

beforeAll(async () => writeFileSync(archive, await fixtureArchive('school')));
afterAll(() => rmSync(folder, { recursive: true }));

let files = 0;

/** A policy file of these words. */
function fileOf(text: string | Uint8Array): string {
  const file = join(folder, `policy-${++files}.yaml`);
  writeFileSync(file, text);
  return file;
}

/** The cells of each row of the table, by the name of the value. */
function rowsOf(stdout: string): Map<string, string[]> {
  const rows = stdout.split('\n').map((line) => line.trim().split(/ {2,}/));
  return new Map(rows.map(([name = '', ...cells]) => [name, cells]));
}

const audited = async (...args: readonly string[]) => {
  const { code, stdout, stderr } = await linebudget('audit', archive, '--format', 'json', ...args);
  return { code, stderr, report: JSON.parse(stdout) as Report };
};

describe('linebudget policy', () => {
  it('prints common practice, each value with who set it and where it is from', async () => {
    const { code, stdout, stderr } = await linebudget('policy');
    expect([code, stderr]).toEqual([0, '']);
    expect(stdout.split('\n')[0]).toBe(
      `Policy: extends common-practice (${BUILT_IN_FOR['common-practice']}); sha-256 ${policyDigest(COMMON_PRACTICE)}`,
    );
    const rows = rowsOf(stdout);
    for (const [key, value] of Object.entries(COMMON_PRACTICE)) {
      if (typeof value === 'object') continue;
      const from = sourceText(POLICY_SOURCES[key as PolicyKey]);
      expect([key, rows.get(key)]).toEqual([key, [String(value), 'common-practice', from]]);
    }
    expect(rows.get('stock[2]')).toEqual(['ratingMa 640, kinds plain/reporting', 'common-practice']);
    for (const key of ['growth', 'products']) expect(rows.get(key)?.slice(0, 2)).toEqual(['none', 'common-practice']);
    expect(rows.get('severities')).toEqual(['each rule’s own', 'common-practice']);
  });

  it('prints a built-in policy by its name', async () => {
    const rows = rowsOf((await linebudget('policy', 'conservative')).stdout);
    expect(rows.get('targetLoad')?.slice(0, 2)).toEqual(['0.7', 'conservative']);
    expect(rows.get('devicesClassic')?.slice(0, 2)).toEqual(['64', 'common-practice']);
  });

  it('tells a severity of the built-in policy from one of the file', async () => {
    const file = fileOf('extends: standard\nseverities: { low-headroom: off }');
    const rows = rowsOf((await linebudget('policy', file)).stdout);
    expect(rows.get('severities.fan-in-exceeded')?.slice(0, 2)).toEqual(['error', 'standard']);
    expect(rows.get('severities.low-headroom')?.slice(0, 2)).toEqual(['off', 'policy file']);
  });

  it('prints what a file sets', async () => {
    const file = fileOf(
      'targetLoad: 0.75\ngrowth: [{ line: "1.*", devices: 4 }]\nproducts: [{ id: M-*, currentMa: 5, note: sheet }]',
    );
    const { code, stdout } = await linebudget('policy', file);
    expect(code).toBe(0);
    const rows = rowsOf(stdout);
    expect(rows.get('targetLoad')?.slice(0, 2)).toEqual(['0.75', 'policy file']);
    expect(rows.get('growth[0]')?.slice(0, 2)).toEqual(['line 1.*, devices 4, reserveMa 0', 'policy file']);
    expect(rows.get('products[0]')?.slice(0, 2)).toEqual(['id M-*, currentMa 5, note sheet', 'policy file']);
    expect(stdout).toContain('set by hand in the policy file (targetLoad)');
  });

  it('prints JSON that a program can use', async () => {
    const { code, stdout } = await linebudget('policy', 'standard', '--format', 'json');
    const { sha256, sources, ...policy } = JSON.parse(stdout);
    expect([code, sha256]).toEqual([0, policyDigest(policy.values)]);
    expect(policy).toEqual(builtIn('standard'));
    expect(Object.keys(sources)).toEqual(Object.keys(policy.values));
  });

  it('prints the digest that a report has', async () => {
    const file = fileOf('targetLoad: 0.75');
    const { sha256 } = JSON.parse((await linebudget('policy', file, '--format', 'json')).stdout);
    expect((await audited('--policy', file)).report.policy.sha256).toBe(sha256);
  });

  it.each([
    ['targetLoad: 1.5', 'targetLoad: "1.5" is not allowed; it takes a number above 0, up to 1'],
    [
      'severities: { low-headroom: of }',
      'severities.low-headroom: "of" is not allowed; it takes one of error, warning',
    ],
    ['growth: [', 'it is neither YAML nor JSON'],
    [
      'assumedCurrentMa: 2',
      'assumedLowMa (3, set by common-practice) is above assumedCurrentMa (2, set by policy file)',
    ],
  ])('refuses a file of %j, and says what is allowed', async (text, problem) => {
    const file = fileOf(text);
    for (const args of [
      ['policy', file],
      ['audit', archive, '--policy', file],
    ]) {
      const { code, stdout, stderr } = await linebudget(...args);
      expect([code, stdout]).toEqual([2, '']);
      expect(stderr).toContain(problem);
      expect(stderr).toContain(file);
      expect(stderr).toMatch(/\[invalid-policy\]\n$/);
    }
  });

  it('refuses a file that cannot be read, and names the built-in policies', async () => {
    const file = join(folder, 'nowhere');
    const { code, stderr } = await linebudget('policy', file);
    const builtInOnes = 'built in are common-practice, conservative, standard';
    expect([code, stderr]).toEqual([2, `linebudget: --policy ${file} cannot be read (ENOENT); ${builtInOnes}\n`]);
  });

  it('refuses a file that is no UTF-8', async () => {
    const { code, stderr } = await linebudget('policy', fileOf(Buffer.from([0x23, 0xe9, 0x0a])));
    expect(code).toBe(2);
    expect(stderr).toContain('cannot be read (no valid UTF-8)');
  });

  it.each([
    ['two policies', ['standard', 'conservative'], 'name one policy, or none for common practice'],
    ['another format', ['--format', 'yaml'], '--format takes text, json, not "yaml"'],
    ['another option', ['--strict'], "Unknown option '--strict'"],
  ])('refuses %s', async (_, args, problem) => {
    const { code, stdout, stderr } = await linebudget('policy', ...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain(problem);
  });
});

describe('linebudget audit --policy', () => {
  it('judges by a file', async () => {
    // 1.4 draws 141.5 mA of 160 mA, see fixtures/school.md: above 80 %, below 90 %.
    const tight = ({ segments }: Report) => segments.find(({ label }) => label === '1.4')?.verdict;
    expect(tight((await audited()).report)).toBe('tight');
    const { report } = await audited('--policy', fileOf('targetLoad: 0.9'));
    expect(tight(report)).toBe('sufficient');
    expect(report.policy).toMatchObject({ values: { targetLoad: 0.9 }, setBy: { targetLoad: 'policy file' } });
  });

  it('judges by a built-in policy', async () => {
    const severitiesOf = ({ findings }: Report) =>
      new Set(findings.filter(({ rule }) => rule === 'fan-in-exceeded').map(({ severity }) => severity));
    expect(severitiesOf((await audited()).report)).toEqual(new Set(['note']));
    const { report } = await audited('--policy', 'standard');
    expect(severitiesOf(report)).toEqual(new Set(['error']));
    expect(report.policy.extends).toBe('standard');
  });

  it('passes over a rule that is off, and says so', async () => {
    const { report } = await audited('--policy', fileOf('severities: { low-headroom: off }'));
    expect(report.findings.filter(({ rule }) => rule === 'low-headroom')).toEqual([]);
    const ends = report.coverage.filter(({ rule }) => rule === 'low-headroom').map(({ status }) => status);
    expect(ends).toEqual(report.segments.map(() => 'off'));
    expect(report.rules.find(({ id }) => id === 'low-headroom')).toMatchObject({ severity: 'warning', inForce: 'off' });
    expect(report.coverage.filter(({ rule, status }) => rule !== 'low-headroom' && status === 'off')).toEqual([]);
  });

  it('fails where every rule is off, as nothing was checked', async () => {
    const all = (severity: string) => `severities: { ${RULE_IDS.map((id) => `${id}: ${severity}`).join(', ')} }`;
    const off = await audited('--policy', fileOf(all('off')), '--fail-on', 'never');
    expect([off.code, off.report.summary.checks, off.report.findings]).toEqual([3, 0, []]);
    const notes = await audited('--policy', fileOf(all('note')), '--fail-on', 'warning');
    expect([notes.code, notes.report.findings.length > 0]).toEqual([0, true]);
  });

  it.each([
    ['error', 1],
    ['warning', 0],
  ])('counts a finding that the policy makes an %s as such', async (severity, code) => {
    const others = RULE_IDS.filter((id) => id !== 'low-headroom').map((id) => `${id}: off`);
    const file = fileOf(`severities: { low-headroom: ${severity}, ${others.join(', ')} }`);
    expect((await linebudget('audit', archive, '--policy', file)).code).toBe(code);
  });

  it.each(['2027-02-29', 'tomorrow', '', '2027-3-1'])('refuses the day --as-of %j', async (day) => {
    const { code, stdout, stderr } = await linebudget('audit', archive, '--as-of', day);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain(`--as-of takes a day such as 2027-03-31, not "${day}"`);
  });

  it('takes a day', async () => {
    expect((await audited('--as-of', '2028-02-29')).report.segments).not.toEqual([]);
  });
});
