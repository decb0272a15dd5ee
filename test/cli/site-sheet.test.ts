import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPlant } from '../../src/audit.js';
import type { Report } from '../../src/report/report.js';
import { startingSheet } from '../../src/site/starting-sheet.js';
import { fixtureArchive } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';
import { filledIn } from '../support/site-lists.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);
const FIXTURES = ['house', 'school', 'repeaters'];

beforeAll(async () => {
  for (const fixture of FIXTURES) writeFileSync(at(fixture), await fixtureArchive(fixture));
  writeFileSync(at('letter'), 'Dear planner');
});

afterAll(() => rmSync(folder, { recursive: true }));

const auditOf = async (...args: string[]) => {
  const { code, stdout, stderr } = await linebudget('audit', '--format', 'json', '--fail-on', 'never', ...args);
  expect([code, stderr]).toEqual([0, expect.not.stringContaining('invalid')]);
  return JSON.parse(stdout) as Report;
};

describe('linebudget site-sheet', () => {
  it.each(FIXTURES)('writes a sheet for the %s that the audit takes, and that says nothing yet', async (fixture) => {
    const file = await fixtureArchive(fixture);
    const { archive, projects } = await readPlant(file);
    const text = startingSheet(projects, archive.sha256);
    expect(await linebudget('site-sheet', at(fixture))).toEqual({ code: 0, signal: null, stdout: text, stderr: '' });
    const out = at(`${fixture}.yaml`);
    const { code, stdout, stderr } = await linebudget('site-sheet', at(fixture), '--out', out);
    expect([code, stdout, stderr, readFileSync(out, 'utf8')]).toEqual([0, '', '', text]);
    const [bare, report] = [await auditOf(at(fixture)), await auditOf(at(fixture), '--site', out)];
    expect(report.segments.map(({ label, verdict, load }) => [label, verdict, load])).toEqual(
      bare.segments.map(({ label, verdict, load }) => [label, verdict, load]),
    );
    expect(report.site).not.toBeNull();
  });

  it('leaves a sheet that is there already as it is', async () => {
    const out = at('mine.yaml');
    writeFileSync(out, 'segments: []');
    const { code, stdout, stderr } = await linebudget('site-sheet', at('house'), '--out', out);
    expect([code, stdout, readFileSync(out, 'utf8')]).toEqual([2, '', 'segments: []']);
    const why = 'is there already and may be filled in by hand; name another file, or take this one away first';
    expect(stderr).toBe(`linebudget: --out ${out} ${why}\n`);
  });

  it.each([
    ['letter', [], 'the file is not a ZIP archive; upload the project archive as it was exported [not-a-zip]'],
    ['missing', [], 'the file cannot be read (ENOENT)'],
    ['house', ['--limit', 'partBytes=1'], 'partBytes'],
  ])('ends with 2 where the %s cannot be read, and writes nothing', async (name, options, says) => {
    const out = at(`none-of-${name}`);
    const { code, stdout, stderr } = await linebudget('site-sheet', at(name), '--out', out, ...options);
    expect([code, stdout, existsSync(out)]).toEqual([2, '', false]);
    expect(stderr).toMatch(/^linebudget: .*\n$/);
    expect(stderr).toContain(`${at(name)}: `);
    expect(stderr).toContain(says);
  });

  it('says so where the file cannot be written', async () => {
    const { code, stderr } = await linebudget('site-sheet', at('house'), '--out', '/no/such/folder/sheet');
    expect([code, stderr]).toEqual([2, 'linebudget: --out /no/such/folder/sheet cannot be written (ENOENT)\n']);
  });

  it.each([[[]], [['a', 'b']]])('with %j in place of an archive shows the usage', async (files) => {
    const { code, stderr } = await linebudget('site-sheet', ...files);
    expect([code, stderr]).toEqual([2, expect.stringMatching(/^linebudget: name one project archive\n\nUsage:/)]);
  });
});

describe('linebudget audit --measured', () => {
  it('takes the list that --format csv-site-check made, filled in', async () => {
    const list = await linebudget('audit', '--format', 'csv-site-check', at('house'));
    expect(list.code).toBe(0);
    writeFileSync(
      at('list.csv'),
      filledIn(list.stdout, ({ unit }) => (unit === 'mA' ? 150 : 27)),
    );
    const { segments } = await auditOf(at('house'), '--measured', at('list.csv'));
    const readings = segments.flatMap(({ onSite }) => onSite?.expected?.readings ?? []);
    // fixtures/house.md: 167 mA
    expect(readings).toMatchObject([
      { quantity: 'current', at: 'Supply', expected: 167, measured: 150 },
      { quantity: 'voltage', at: 'the far end', low: 21, measured: 27 },
    ]);
  });

  it('ends with 2 where it is no such list', async () => {
    const { code, stderr } = await linebudget('audit', at('house'), '--measured', at('letter'));
    expect(code).toBe(2);
    expect(stderr).toContain('the first line is no header of a list of measured values');
    expect(stderr).toContain('[invalid-measured-values]');
  });
});
