import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { EXIT, exitCodeOf } from '../../src/cli/exit-code.js';
import { readWaivers } from '../../src/policy/waivers.js';
import type { Report } from '../../src/report/report.js';
import { applyWaivers } from '../../src/report/waivers.js';
import { fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);
const archive = at('school');
const list = at('waivers.yaml');
let report: Report;

beforeAll(async () => {
  const bytes = await fixtureArchive('school');
  writeFileSync(archive, bytes);
  report = await audit(bytes);
});
beforeEach(() => rmSync(list, { force: true }));
afterAll(() => rmSync(folder, { recursive: true }));

const TERMS = ['--reason', 'closed in spring: see #12', '--author', 'A. Planner', '--expires', '2028-02-29'];

const findingOf = (rule: string) => {
  const found = report.findings.find((one) => one.rule === rule);
  if (found === undefined) throw new Error(`the school has no finding of ${rule}`);
  return found;
};
const waive = (rule: string, ...more: readonly string[]) =>
  linebudget('waive', archive, findingOf(rule).fingerprint, ...TERMS, ...more);
const read = (file: string) => readWaivers(readFileSync(file, 'utf8'), file);

const LOW_HEADROOM = () => ({
  fingerprint: findingOf('low-headroom').fingerprint,
  rule: 'low-headroom',
  subject: '1.4',
  reason: 'closed in spring: see #12',
  author: 'A. Planner',
  expires: '2028-02-29',
  accepted: '88.5 %', // 141.5 of 160 mA: 88.4375 %, see fixtures/school.md
});

describe('linebudget waive', () => {
  it('prints a list with the entry, and why it is there', async () => {
    const { code, stdout, stderr } = await waive('low-headroom');
    expect([code, stderr]).toEqual([0, '']);
    expect(await readWaivers(stdout, 'stdout')).toEqual([LOW_HEADROOM()]);
    expect(stdout.split('\n').slice(0, 3)).toEqual([
      'waivers:',
      `  # ${findingOf('low-headroom').message}`,
      `  - fingerprint: ${findingOf('low-headroom').fingerprint}`,
    ]);
  });

  it('makes the list where there is none, and leaves it to be applied', async () => {
    const { code, stdout, stderr } = await waive('low-headroom', '--waivers', list);
    expect([code, stdout, stderr]).toEqual([0, '', `${list}: low-headroom for 1.4 is accepted until 2028-02-29\n`]);
    const { summary, findings } = applyWaivers(report, await read(list), '2028-02-29');
    expect(summary.waived).toBe(1);
    expect(findings).toHaveLength(report.findings.length);
  });

  it.each([
    ['in its own unit where a share is not usual', 'duplicate-address', { accepted: '2 devices' }],
    ['as nothing where nobody knows it', 'supply-rating-unknown', {}],
    ['as how many want a supply', 'missing-supply', { accepted: '3 participants' }],
  ])('takes the figure %s', async (_, rule, figures) => {
    const [entry] = await readWaivers((await waive(rule)).stdout, 'stdout');
    const { accepted } = { accepted: undefined, ...figures };
    expect([entry?.rule, entry?.accepted]).toEqual([rule, accepted]);
  });

  it('makes waivers that hold at once, whatever the figure', async () => {
    // More and less is worse, shares that are no round number, a negative current.
    const rules = ['overloaded-segment', 'fan-in-exceeded', 'coupler-missing', 'current-implausible'];
    const concerned = report.findings.filter(({ rule }) => rules.includes(rule));
    const printed = await Promise.all(
      concerned.map(({ fingerprint }) => linebudget('waive', archive, fingerprint, ...TERMS)),
    );
    const waivers = await Promise.all(printed.map(({ stdout }) => readWaivers(stdout, 'stdout')));
    const { findings, summary } = applyWaivers(report, waivers.flat(), '2027-01-01');
    expect(findings.flatMap(({ rule, waiver }) => (waiver === null ? [] : [rule]))).toEqual(
      concerned.map(({ rule }) => rule),
    );
    expect([summary.waived, findings.length]).toEqual([concerned.length, report.findings.length]);
  });

  it('takes a fingerprint by its first digits, in any case', async () => {
    const { fingerprint } = findingOf('low-headroom');
    const { code, stdout } = await linebudget('waive', archive, fingerprint.slice(0, 6).toUpperCase(), ...TERMS);
    expect([code, await readWaivers(stdout, 'stdout')]).toEqual([0, [LOW_HEADROOM()]]);
  });

  it('takes a limit of its own', async () => {
    const { stdout } = await waive('low-headroom', '--raise-above', '95 %');
    expect(await readWaivers(stdout, 'stdout')).toEqual([{ ...LOW_HEADROOM(), raiseAbove: '95 %' }]);
  });
});

describe('a finding that is waived', () => {
  const exitOf = (waived: number) => {
    const { reason, author, expires } = LOW_HEADROOM();
    const mark = { reason, author, expires, accepted: null, raiseAbove: null };
    const errors = report.findings.filter(({ severity }) => severity === 'error');
    const findings = errors.map((one, index) => ({ ...one, waiver: index < waived ? mark : null }));
    return { exit: exitCodeOf({ ...report, findings }, 'error'), errors: errors.length };
  };

  it('fails no build; the last that is not, does', () => {
    const { errors } = exitOf(0);
    expect(errors).toBeGreaterThan(1);
    expect([errors - 1, errors].map((waived) => exitOf(waived).exit)).toEqual([EXIT.findings, EXIT.fine]);
  });
});

describe('a list that is there', () => {
  const OLD = `# Accepted by the school board.

waivers:
- fingerprint: 0123456789abcdef0123456789abcdef # the tower
  rule: low-headroom
  # asked on site
  reason: "a reason that is so long that it would be folded into several lines, were the text not left as it stands"
  author: B. Planner
  expires: 2027-01-01
# the end
`;

  it('keeps its text and comments, and the entry comes last', async () => {
    writeFileSync(list, OLD);
    expect((await waive('low-headroom', '--waivers', list)).code).toBe(0);
    const text = readFileSync(list, 'utf8');
    for (const line of OLD.split('\n')) expect(text.split('\n')).toContain(line);
    expect(await read(list)).toEqual([...(await readWaivers(OLD, 'old')), LOW_HEADROOM()]);
    expect(text).toContain(`# ${findingOf('low-headroom').message}`);
  });

  it.each(['', '\n', 'waivers: []\n', '# none yet\nwaivers: []\n'])('may be empty: %j', async (empty) => {
    writeFileSync(list, empty);
    expect((await waive('low-headroom', '--waivers', list)).code).toBe(0);
    expect(await read(list)).toEqual([LOW_HEADROOM()]);
    expect(readFileSync(list, 'utf8').startsWith(empty.trim().replace(' []', ''))).toBe(true);
  });

  it('stays JSON where it is JSON', async () => {
    const entries = await readWaivers(OLD, 'old');
    writeFileSync(list, JSON.stringify({ $schema: 'waivers.json', waivers: entries }));
    expect((await waive('low-headroom', '--waivers', list)).code).toBe(0);
    const parsed = JSON.parse(readFileSync(list, 'utf8'));
    expect(parsed).toEqual({ $schema: 'waivers.json', waivers: [...entries, LOW_HEADROOM()] });
  });

  it.each([
    ['has an entry for the finding', () => JSON.stringify({ waivers: [LOW_HEADROOM()] }), 'has an entry for'],
    ['cannot be read as one', () => 'waivers: 7\n', 'waivers: "7" is not allowed; it takes a list'],
    ['is no YAML', () => 'waivers: [', 'it is neither YAML nor JSON'],
    ['is about something else', () => 'tokens: []\n', 'waivers: nothing is not allowed'],
  ])('is left alone where it %s', async (_, source, problem) => {
    writeFileSync(list, source());
    const { code, stdout, stderr } = await waive('low-headroom', '--waivers', list);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain(problem);
    expect(stderr).not.toContain('Usage:');
    expect(readFileSync(list, 'utf8')).toBe(source());
  });

  it.each([
    ['cannot be read', () => folder, 'cannot be read (EISDIR)'],
    ['cannot be written', () => join(folder, 'nowhere', 'waivers.yaml'), 'cannot be written (ENOENT)'],
  ])('is told of where it %s', async (_, file, problem) => {
    const { code, stderr } = await waive('low-headroom', '--waivers', file());
    expect([code, stderr]).toEqual([2, `linebudget: ${file()} ${problem}\n`]);
  });
});

describe('what cannot be waived', () => {
  const refused = async (...args: readonly string[]) => {
    const { code, stdout, stderr } = await linebudget('waive', ...args);
    expect([code, stdout, existsSync(list)]).toEqual([2, '', false]);
    return stderr;
  };

  it('is a fingerprint that is not there; those that are, are listed', async () => {
    const stderr = await refused(archive, '000000', ...TERMS, '--waivers', list);
    expect(stderr).toMatch(/^linebudget: there is no finding with a fingerprint that begins with 000000; there are:\n/);
    const { fingerprint, rule, subject } = report.findings[0] as Report['findings'][number];
    expect(stderr.split('\n')).toContain(`  ${fingerprint}  ${rule}  ${subject.label}`);
    expect(stderr).toContain(`  and ${report.findings.length - 20} more\n`);
  });

  it('is anything in an archive without findings', async () => {
    writeFileSync(at('house'), await fixtureArchive('house'));
    expect(await refused(at('house'), '000000', ...TERMS)).toBe(
      'linebudget: there is no finding with a fingerprint that begins with 000000, nor any other\n',
    );
  });

  it('is a beginning that several findings have; they are listed', async () => {
    const { archive: several, shared, fingerprints } = await withSharedBeginning();
    const stderr = await refused(several, shared, ...TERMS, '--waivers', list);
    const lines = stderr.split('\n');
    expect(lines[0]).toBe(`linebudget: several findings have a fingerprint that begins with ${shared}:`);
    expect(lines.slice(1, -1).map((line) => line.trim().split(' ')[0])).toEqual(fingerprints);
  });

  it.each([
    ['a word as fingerprint', ['tower'], 'a fingerprint is 32 hexadecimal digits'],
    ['too few digits', ['99593'], 'a fingerprint is 32 hexadecimal digits'],
    ['no fingerprint', [], 'name a project archive and the fingerprint of a finding'],
    ['two fingerprints', ['995a9b', '718ad4'], 'name a project archive and the fingerprint of a finding'],
  ])('is %s', async (_, fingerprints, problem) => {
    const stderr = await refused(archive, ...fingerprints, ...TERMS);
    expect(stderr).toContain(problem);
    expect(stderr).toContain('Usage:');
  });

  it.each(['--reason', '--author', '--expires'])('is without %s', async (option) => {
    const index = TERMS.indexOf(option);
    const rest = TERMS.filter((_, position) => position !== index && position !== index + 1);
    const { fingerprint } = findingOf('low-headroom');
    expect(await refused(archive, fingerprint, ...rest)).toContain('a waiver needs --reason, --author and --expires');
  });

  it.each([
    ['--expires', '2027-02-29', 'expires: "2027-02-29" is not allowed; it takes a day of the calendar'],
    ['--expires', 'soon', 'expires: "soon" is not allowed'],
    ['--reason', ' ', 'reason: " " is not allowed'],
    ['--raise-above', '95', 'raiseAbove: "95" is not allowed; it takes a number and its unit'],
    ['--raise-above', '95 mA', 'raiseAbove: "95 mA" is not allowed; it takes a figure in the unit of accepted'],
  ])('is with %s %j', async (option, value, problem) => {
    const { fingerprint } = findingOf('low-headroom');
    const stderr = await refused(archive, fingerprint, ...TERMS, '--waivers', list, option, value);
    expect(stderr).toContain(`linebudget: ${problem}`);
  });

  it('is anything in an archive that cannot be audited', async () => {
    writeFileSync(at('letter'), 'Dear planner');
    expect(await refused(at('letter'), '995a9b', ...TERMS)).toMatch(/letter: .* \[not-a-zip\]\n$/);
    expect(await refused(at('nothing'), '995a9b', ...TERMS)).toMatch(/nothing: the file cannot be read \(ENOENT\)\n$/);
    expect(await refused(archive, '995a9b', ...TERMS, '--limit', 'archiveEntries=1')).toContain('[limit-exceeded]');
  });
});

describe('names out of the archive', () => {
  it('break out of no line', async () => {
    const parts = fixtureParts('house');
    const evil = 'Spare&#10;waivers: []&#xD;# &#x2028;x';
    const spare = `<UnassignedDevices><DeviceInstance Id="P-01D4-0_DI-99" Name="${evil}"/></UnassignedDevices>`;
    const topology = String(parts['P-01D4/0.xml']).replace('</Topology>', `${spare}</Topology>`);
    const bytes = await zip({ ...parts, 'P-01D4/0.xml': topology });
    writeFileSync(at('evil'), bytes);
    const [finding] = (await audit(bytes)).findings;
    const { code, stdout } = await linebudget('waive', at('evil'), finding?.fingerprint ?? '', ...TERMS);
    expect(code).toBe(0);
    expect(await readWaivers(stdout, 'stdout')).toMatchObject([{ rule: 'device-unplaced' }]);
    expect(stdout.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}]/u);
  });
});

/** A plant of so many spare devices that the fingerprints of two begin alike. */
async function withSharedBeginning() {
  const parts = fixtureParts('house');
  const spares = Array.from(
    { length: 12_000 },
    (_, index) => `<DeviceInstance Id="P-01D4-0_DI-9${index}" Name="Spare"/>`,
  );
  const topology = String(parts['P-01D4/0.xml']).replace(
    '</Topology>',
    `<UnassignedDevices>${spares.join('')}</UnassignedDevices></Topology>`,
  );
  const bytes = await zip({ ...parts, 'P-01D4/0.xml': topology });
  writeFileSync(at('several'), bytes);
  const { findings } = await audit(bytes);
  const beginnings = new Map<string, string[]>();
  for (const { fingerprint } of findings) {
    const beginning = fingerprint.slice(0, 6);
    beginnings.set(beginning, [...(beginnings.get(beginning) ?? []), fingerprint]);
  }
  const found = [...beginnings].find(([, fingerprints]) => fingerprints.length > 1);
  if (found === undefined) throw new Error('no two fingerprints begin alike');
  return { archive: at('several'), shared: found[0], fingerprints: found[1] };
}
