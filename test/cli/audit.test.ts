import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { formatJson } from '../../src/report/format/json.js';
import { formatText, summaryLine } from '../../src/report/format/text.js';
import type { Report } from '../../src/report/report.js';
import { fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';

/** Archives by the worst that is found in them. */
const SPARE = '<UnassignedDevices><DeviceInstance Id="P-01D4-0_DI-99" Name="Spare"/></UnassignedDevices>';
const ARCHIVES = {
  nothing: () => fixtureArchive('house'),
  note: () => {
    const parts = fixtureParts('house');
    const topology = String(parts['P-01D4/0.xml']).replace('</Topology>', `${SPARE}</Topology>`);
    return zip({ ...parts, 'P-01D4/0.xml': topology });
  },
  warning: () => fixtureArchive('twin-new'),
  error: () => fixtureArchive('school'),
};

type Worst = keyof typeof ARCHIVES;

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);
const reports = {} as Record<Worst, Report>;

beforeAll(async () => {
  for (const worst of Object.keys(ARCHIVES) as Worst[]) {
    const bytes = await ARCHIVES[worst]();
    writeFileSync(at(worst), bytes);
    reports[worst] = await audit(bytes);
  }
  mkdirSync(at('folder'));
  writeFileSync(at('letter'), 'Dear planner');
});

afterAll(() => rmSync(folder, { recursive: true }));

const NO_ZIP = 'the file is not a ZIP archive; upload the project archive as it was exported';

describe('linebudget audit of one archive', () => {
  it.each([[[]], [['--format', 'text']]])(
    'with %j prints the report as text, and a line of summary beside',
    async (args) => {
      const { code, stdout, stderr } = await linebudget('audit', at('error'), ...args);
      expect(stdout).toBe(formatText(reports.error));
      expect(stderr).toBe(`${at('error')}: ${summaryLine(reports.error)}\n`);
      expect(code).toBe(1);
    },
  );

  it('with --format json prints the report as JSON', async () => {
    const { code, stdout, stderr } = await linebudget('audit', '--format', 'json', at('nothing'));
    expect(stdout).toBe(formatJson(reports.nothing));
    expect(stderr).toBe(`${at('nothing')}: ${summaryLine(reports.nothing)}\n`);
    expect(code).toBe(0);
  });

  it.each([
    ['json', formatJson],
    ['text', formatText],
  ])('with --out writes the same %s into a file, and nothing else', async (format, expected) => {
    const out = at(`report.${format}`);
    writeFileSync(out, 'an older and longer report'.repeat(100_000));
    const { code, stdout } = await linebudget('audit', at('error'), '--format', format, '--out', out);
    expect([code, stdout]).toEqual([1, '']);
    expect(readFileSync(out, 'utf8')).toBe(expected(reports.error));
  });

  it('looks at no file name', async () => {
    for (const name of ['-dash.zip', 'notes.txt', 'ümlaut und blank']) {
      writeFileSync(at(name), await ARCHIVES.nothing());
      const { code, stdout } = await linebudget('audit', at(name));
      expect([name, code, stdout]).toEqual([name, 0, formatText(reports.nothing)]);
    }
  });
});

describe('--fail-on', () => {
  it.each<[string | undefined, Record<Worst, number>]>([
    [undefined, { nothing: 0, note: 0, warning: 0, error: 1 }],
    ['error', { nothing: 0, note: 0, warning: 0, error: 1 }],
    ['warning', { nothing: 0, note: 0, warning: 1, error: 1 }],
    ['note', { nothing: 0, note: 1, warning: 1, error: 1 }],
    ['never', { nothing: 0, note: 0, warning: 0, error: 0 }],
  ])('%s ends with %j', async (failOn, expected) => {
    const args = failOn === undefined ? [] : ['--fail-on', failOn];
    const worsts = Object.keys(ARCHIVES) as Worst[];
    const codes = worsts.map(async (worst) => [worst, (await linebudget('audit', at(worst), ...args)).code]);
    expect(Object.fromEntries(await Promise.all(codes))).toEqual(expected);
  });

  it('is tried on archives with just such findings', () => {
    const found = (worst: Worst) => Object.entries(reports[worst].summary.findings).filter(([, count]) => count > 0);
    expect(found('nothing')).toEqual([]);
    expect(found('note')).toEqual([['note', 1]]);
    expect(found('warning').map(([severity]) => severity)).toEqual(['warning']);
    expect(found('error').map(([severity]) => severity)).toContain('error');
  });

  it('never does not cover what cannot be read', async () => {
    expect((await linebudget('audit', at('letter'), '--fail-on', 'never')).code).toBe(2);
  });
});

describe('linebudget audit of several archives', () => {
  const files = [at('error'), at('letter'), at('missing'), at('nothing')];
  const problems = ['', `${NO_ZIP} [not-a-zip]`, 'the file cannot be read (ENOENT) [unreadable-file]', ''];

  it('as JSON prints a list of file and report, or file and problem, in the order of the call', async () => {
    const { code, stdout, stderr } = await linebudget('audit', '--format', 'json', ...files);
    expect(JSON.parse(stdout)).toEqual([
      { file: files[0], report: reports.error },
      { file: files[1], problem: NO_ZIP, code: 'not-a-zip' },
      { file: files[2], problem: 'the file cannot be read (ENOENT)', code: 'unreadable-file' },
      { file: files[3], report: reports.nothing },
    ]);
    expect(stderr.split('\n')).toEqual([
      `${files[0]}: ${summaryLine(reports.error)}`,
      `${files[1]}: ${problems[1]}`,
      `${files[2]}: ${problems[2]}`,
      `${files[3]}: ${summaryLine(reports.nothing)}`,
      '',
    ]);
    expect(code).toBe(2);
  });

  it('as text prints every archive under its name: its report, or why there is none', async () => {
    const { code, stdout } = await linebudget('audit', ...files);
    const texts = [
      formatText(reports.error),
      `NOT AUDITED: ${problems[1]}\n`,
      `NOT AUDITED: ${problems[2]}\n`,
      formatText(reports.nothing),
    ];
    const titled = files.map((file, index) => `${file}\n${'='.repeat(file.length)}\n\n${texts[index]}`);
    expect(stdout).toBe(titled.join('\n'));
    expect(code).toBe(2);
  });

  it('writes all of them with --out', async () => {
    const out = at('all.json');
    const { stdout } = await linebudget('audit', '--format', 'json', '--out', out, at('note'), at('warning'));
    expect(stdout).toBe('');
    expect(JSON.parse(readFileSync(out, 'utf8'))).toEqual([
      { file: at('note'), report: reports.note },
      { file: at('warning'), report: reports.warning },
    ]);
  });

  it.each<[number, string[]]>([
    [0, ['nothing', 'warning']],
    [1, ['nothing', 'error', 'warning']],
    [2, ['error', 'letter', 'nothing']],
    [2, ['letter', 'missing']],
  ])('ends with %d over %j', async (expected, names) => {
    expect((await linebudget('audit', ...names.map(at))).code).toBe(expected);
  });
});

describe('a file that cannot be read', () => {
  it.each([
    ['missing', 'the file cannot be read (ENOENT) [unreadable-file]'],
    ['folder', 'the file cannot be read (EISDIR) [unreadable-file]'],
    ['letter', `${NO_ZIP} [not-a-zip]`],
  ])('%s is named with the reason, and there is no report', async (name, problem) => {
    for (const format of ['json', 'text']) {
      const ended = await linebudget('audit', at(name), '--format', format);
      expect(ended).toEqual({ code: 2, signal: null, stdout: '', stderr: `${at(name)}: ${problem}\n` });
    }
  });
});

describe('--out where no archive could be audited', () => {
  it('leaves no older report that could pass for the new one', async () => {
    const out = at('stale');
    writeFileSync(out, 'an older report');
    const { code, stdout } = await linebudget('audit', at('letter'), '--out', out);
    expect([code, stdout, existsSync(out)]).toEqual([2, '', false]);
  });
});
