import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatCsvUnknowns } from '../../src/report/format/csv-unknowns.js';
import type { Report, ReportUnknown } from '../../src/report/report.js';
import { fixtureArchive } from '../support/archives.js';
import { reportOf } from '../support/formats.js';
import { linebudget } from '../support/linebudget.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);
let school: Report;

beforeAll(async () => {
  for (const fixture of ['school', 'house']) writeFileSync(at(fixture), await fixtureArchive(fixture));
  writeFileSync(at('again'), await fixtureArchive('school'));
  writeFileSync(at('letter'), 'Dear planner');
  school = await reportOf('school');
});

afterAll(() => rmSync(folder, { recursive: true }));

const NO_ZIP = 'the file is not a ZIP archive; upload the project archive as it was exported [not-a-zip]';

describe('linebudget unknowns', () => {
  it('lists the data sheets to look up as a table, and their number beside', async () => {
    const { code, stdout, stderr } = await linebudget('unknowns', at('school'));
    const [header, ...rows] = stdout.trimEnd().split('\n');
    expect(header).toMatch(/^Order number +Product +Manufacturer +Wanted +Charged +Turns at +Because +Places$/);
    expect(rows).toHaveLength(school.unknowns.length);
    // fixtures/school.md: three people counters on 2.1, charged with 10 mA each; the supply of 2.4 for 73.6 mA
    expect(rows[0]).toMatch(
      /^QH-PC1 +People counter +Quillhaven Devices +current +10 mA +.* mA +not declared +3 on 2\.1$/,
    );
    expect(rows.at(-1)).toMatch(/^BW-PSX .* rating +73\.6 mA +not declared +1 on 2\.4$/);
    expect(stderr).toBe(`${at('school')}: ${school.unknowns.length} data sheets to look up\n`);
    expect(code).toBe(0);
  });

  it.each([
    ['csv', formatCsvUnknowns],
    ['json', ({ unknowns }: Report) => `${JSON.stringify(unknowns, null, 2)}\n`],
  ])('gives the same list as %s, to standard output or into a file', async (format, expected) => {
    expect((await linebudget('unknowns', at('school'), '--format', format)).stdout).toBe(expected(school));
    const out = at(`list.${format}`);
    const { code, stdout } = await linebudget('unknowns', at('school'), '--format', format, '--out', out);
    expect([code, stdout, readFileSync(out, 'utf8')]).toEqual([0, '', expected(school)]);
  });

  it('says so where there is nothing to look up', async () => {
    const { code, stdout, stderr } = await linebudget('unknowns', at('house'));
    expect([code, stdout]).toEqual([0, 'No data sheet has to be looked up.\n']);
    expect(stderr).toBe(`${at('house')}: 0 data sheets to look up\n`);
  });

  it('over several archives lists each product once, with the places of all', async () => {
    const { code, stdout } = await linebudget('unknowns', '--format', 'json', at('school'), at('again'), at('house'));
    const list = JSON.parse(stdout) as ReportUnknown[];
    expect(list.map(({ productId, devices }) => [productId, devices])).toEqual(
      school.unknowns.map(({ productId, devices }) => [productId, 2 * devices]),
    );
    expect(list[0]?.places.map(({ segment }) => segment)).toEqual([`${at('school')}: 2.1`, `${at('again')}: 2.1`]);
    expect(list.map(({ turnsAtMa }) => turnsAtMa)).toEqual(school.unknowns.map(({ turnsAtMa }) => turnsAtMa));
    expect(code).toBe(0);
  });

  it('ends with 2 where an archive cannot be read, and lists those of the others', async () => {
    const { code, stdout, stderr } = await linebudget('unknowns', at('letter'), at('house'), at('missing'));
    expect([code, stdout]).toEqual([2, 'No data sheet has to be looked up.\n']);
    expect(stderr.split('\n')).toEqual([
      `${at('letter')}: ${NO_ZIP}`,
      `${at('house')}: 0 data sheets to look up`,
      `${at('missing')}: the file cannot be read (ENOENT) [unreadable-file]`,
      '',
    ]);
  });

  it('leaves no older list where no archive could be read', async () => {
    const out = at('stale');
    writeFileSync(out, 'an older list');
    const { code, stdout } = await linebudget('unknowns', at('letter'), '--out', out);
    expect([code, stdout, existsSync(out)]).toEqual([2, '', false]);
  });

  it('holds the limits that are set', async () => {
    const { code, stderr } = await linebudget('unknowns', at('school'), '--limit', 'partBytes=1');
    expect(code).toBe(2);
    expect(stderr).toContain('partBytes');
  });
});
