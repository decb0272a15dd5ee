import { readFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { EXIT, exitCodeOf, worst } from '../../src/cli/exit-code.js';
import { USAGE } from '../../src/cli/usage.js';
import { reportRule } from '../../src/report/build.js';
import { FORMAT_NAMES } from '../../src/report/format/index.js';
import type { Report } from '../../src/report/report.js';
import { RULES } from '../../src/rules/index.js';
import { ended, linebudget, start } from '../support/linebudget.js';

const DEMO = fileURLToPath(new URL('../../fixtures/demo.zip', import.meta.url));

describe('what cannot be done', () => {
  it.each(['no-such-rule', '__proto__'])('the rule %s ends with 2 and a line', async (rule) => {
    const said = `linebudget: there is no rule "${rule}"; linebudget rules lists them\n`;
    expect(await linebudget('rules', rule)).toMatchObject({ code: 2, stdout: '', stderr: said });
  });
});

describe('a wrong call', () => {
  it.each([
    [[], 'name a command'],
    [['adit', DEMO], 'there is no command "adit"'],
    [[DEMO], `there is no command "${DEMO}"`],
    [['audit'], 'name at least one project archive'],
    [['audit', '--frmat', 'json', DEMO], "Unknown option '--frmat'"],
    [['audit', '--format', 'pdf', DEMO], `--format takes ${FORMAT_NAMES.join(', ')}, not "pdf"`],
    [['audit', '--format', 'toString', DEMO], `--format takes ${FORMAT_NAMES.join(', ')}, not "toString"`],
    [['audit', '--format', 'junit', DEMO, DEMO], '--format junit takes one archive'],
    [['audit', '--lang', 'fr', DEMO], '--lang takes en, de, not "fr"'],
    [['plan', '--lang', 'DE', DEMO], '--lang takes en, de, not "DE"'],
    [['rules', '--lang', ''], '--lang takes en, de, not ""'],
    [['unknowns', '--lang', 'de', DEMO], "Unknown option '--lang'"],
    [['unknowns'], 'name at least one project archive'],
    [['unknowns', '--format', 'junit', DEMO], '--format takes csv, json, text, not "junit"'],
    [['unknowns', '--fail-on', 'never', DEMO], "Unknown option '--fail-on'"],
    [['plan'], 'name one plan'],
    [['plan', DEMO, DEMO], 'name one plan'],
    [['what-if'], 'name one project archive'],
    [['what-if', DEMO, DEMO], 'name one project archive'],
    [['what-if', DEMO], 'say what changes: --add, --remove, --supply or --changes'],
    [['what-if', '--measured', DEMO, DEMO], "Unknown option '--measured'"],
    [
      ['what-if', '--add', '1 of 9 mA on 1.1', '--fail-on', 'error', DEMO],
      '--fail-on takes new, new:error, new:warning',
    ],
    [['plan', '--waivers', DEMO, DEMO], "Unknown option '--waivers'"],
    [['plan', '--fail-on', 'new', DEMO], '--fail-on takes error, warning, note, never, not "new"'],
    [['rules', '--format', 'junit'], '--format takes json, text, not "junit"'],
    [['audit', '--format', 'sarif', DEMO, DEMO], '--format sarif takes one archive; json and text take several'],
    [['audit', DEMO, '--format'], "Option '--format <value>' argument missing"],
    [
      ['audit', '--fail-on', 'errors', DEMO],
      '--fail-on takes error, warning, note, new, new:error, new:warning, new:note, never, not "errors"',
    ],
    [['audit', DEMO, '--out'], "Option '--out <value>' argument missing"],
    [['rules', 'low-headroom', 'missing-supply'], 'name one rule, or none for the list'],
    [['rules', '--format', 'sarif'], '--format takes json, text, not "sarif"'],
    [['rules', '--format', 'pdf'], '--format takes json, text, not "pdf"'],
    [['serve', '--port', '70000'], '--port takes a number from 0 to 65535, not "70000"'],
    [['serve', '--port', 'http'], '--port takes a number from 0 to 65535, not "http"'],
    [['serve', '--limit', 'auditSeconds'], '--limit takes NAME=VALUE with a whole number, not "auditSeconds"'],
    [['serve', '--limit', 'auditSeconds=1.5'], '--limit takes NAME=VALUE with a whole number, not "auditSeconds=1.5"'],
    [['serve', '--limit', 'auditSecond=5'], '--limit: there is no limit "auditSecond" here; there are uploadBytes, '],
    [
      ['serve', '--limit', 'auditSeconds=0'],
      '--limit: the limit auditSeconds is a whole number from 1 to 3600 (seconds), not 0',
    ],
    [
      ['audit', '--limit', 'auditSeconds=5', DEMO],
      '--limit: there is no limit "auditSeconds" here; there are uploadBytes, ',
    ],
    [['audit', '--limit=xmlDepth=-1', DEMO], '--limit takes NAME=VALUE with a whole number, not "xmlDepth=-1"'],
    [['serve', 'now'], "Unexpected argument 'now'"],
  ])('%j ends with 2, says why and shows the usage', async (args, problem) => {
    const { code, stdout, stderr } = await linebudget(...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr.startsWith(`linebudget: ${problem}`)).toBe(true);
    expect(stderr.endsWith(`\n\n${USAGE}\n`)).toBe(true);
  });

  it('with an --out that cannot be written ends with 2 and says why', async () => {
    const { code, stdout, stderr } = await linebudget('audit', DEMO, '--out', '/no/such/folder/report');
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain('\nlinebudget: --out /no/such/folder/report cannot be written (ENOENT)\n');
  });

  it('with a port that is taken ends with 2 and says so', async () => {
    const taken = createServer();
    await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
    const { port } = taken.address() as { port: number };
    const { code, stdout, stderr } = await linebudget('serve', '--port', String(port));
    taken.close();
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(new RegExp(`^linebudget: cannot listen on 127\\.0\\.0\\.1:${port} \\(EADDRINUSE\\)\n`));
  });
});

describe('help', () => {
  it.each([[['--help']], [['audit', '--help']], [['serve', '--help']]])('%j prints the usage', async (args) => {
    expect(await linebudget(...args)).toEqual({ code: 0, signal: null, stdout: USAGE, stderr: '' });
  });

  it('names every command, option and exit code', () => {
    const options = [
      '--site',
      '--measured',
      '--format',
      '--out',
      '--fail-on',
      '--config',
      '--host',
      '--port',
      '--open',
      '--name',
      '--role',
    ];
    for (const word of [
      'audit',
      'plan',
      'unknowns',
      'site-sheet',
      'rules',
      'serve',
      'token',
      'what-if',
      ...options,
      '--version',
    ]) {
      expect(USAGE).toContain(word);
    }
    for (const code of Object.values(EXIT)) expect(USAGE).toMatch(new RegExp(`Exit:.*\\b${code} \\w+`));
  });

  it('--version prints name and version of the package', async () => {
    const { name, version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
    expect(await linebudget('--version')).toEqual({
      code: 0,
      signal: null,
      stdout: `${name} ${version}\n`,
      stderr: '',
    });
  });
});

describe('linebudget rules', () => {
  it('lists every rule with severity and title, in order', async () => {
    const { code, stdout, stderr } = await linebudget('rules');
    const rows = RULES.map(({ id, severity, title }) => [id, severity, title]);
    const lines = stdout.trimEnd().split('\n');
    expect(lines.map((line) => line.split(/ {2,}/))).toEqual(rows);
    expect([code, stderr]).toEqual([0, '']);
  });

  it('prints the list as JSON, as the service does', async () => {
    const { code, stdout } = await linebudget('rules', '--format', 'json');
    expect(JSON.parse(stdout)).toEqual(RULES.map((rule) => reportRule(rule)));
    expect(code).toBe(0);
  });

  it('prints one rule as JSON, as the service does', async () => {
    const { stdout } = await linebudget('rules', 'low-headroom', '--format', 'json');
    expect(JSON.parse(stdout)).toEqual(
      RULES.filter(({ id }) => id === 'low-headroom').map((rule) => reportRule(rule))[0],
    );
  });

  it.each(RULES.map((rule) => [rule.id, reportRule(rule)] as const))('%s explains the rule', async (id, rule) => {
    const { code, stdout } = await linebudget('rules', id);
    const words = stdout.replace(/\s+/g, ' ');
    expect(words.startsWith(`${id} (${rule.severity}): ${rule.title} `)).toBe(true);
    for (const word of [rule.why, rule.limit, rule.source, rule.remedy]) expect(words).toContain(word);
    expect(code).toBe(0);
  });
});

describe('the exit code', () => {
  it.each<[number[], number]>([
    [[], EXIT.fine],
    [[0, 0], 0],
    [[0, 1, 0], 1],
    [[1, 2, 1], 2],
    [[2, 3, 1], 3],
  ])('over %j is %d', (codes, expected) => {
    expect(worst(codes as (typeof EXIT.fault)[])).toBe(expected);
  });

  it('of an incomplete audit is 3, whatever it found and whatever fails', () => {
    const incomplete = { summary: { complete: false }, findings: [{ severity: 'error' }] } as unknown as Report;
    expect((['error', 'never'] as const).map((failOn) => exitCodeOf(incomplete, failOn))).toEqual([3, 3]);
  });
});

describe('a reader that has seen enough', () => {
  it.each([
    ['error', 1],
    ['never', 0],
  ])('harms nobody, and leaves the exit code of --fail-on %s', async (failOn, code) => {
    const more = Array.from({ length: 10 }, () => DEMO); // than any buffer between the two holds
    const child = start('audit', '--format', 'json', '--fail-on', failOn, ...more);
    child.stdout.once('data', () => child.stdout.destroy());
    const [end, stderr] = await Promise.all([ended(child), text(child.stderr)]);
    expect(end).toEqual({ code, signal: null });
    expect(
      stderr
        .trimEnd()
        .split('\n')
        .filter((line) => !line.startsWith(`${DEMO}: `)),
    ).toEqual([]);
  });
});
