import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { auditPlan } from '../../src/audit.js';
import { FORMAT_NAMES, FORMATS } from '../../src/report/format/index.js';
import { formatText, summaryLine } from '../../src/report/format/text.js';
import { FIXTURES } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';

const FILE = join(FIXTURES, 'example-plan.yaml');
const PLAN = { name: FILE, text: readFileSync(FILE, 'utf8') };
const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);

beforeAll(() => {
  writeFileSync(at('fine.csv'), 'line;count;supplyMa;currentMa\n1.1;30;640;7,5\n');
  writeFileSync(at('wrong.csv'), 'line;count\n1.1;0\n');
  writeFileSync(at('bytes'), Buffer.of(0xff));
  writeFileSync(at('site.yaml'), 'segments: [{segment: "1.1", totalLength: 1200 m, cable: 0.8 mm pair}]');
  writeFileSync(at('products.csv'), 'productId,currentMa\n"device ""push button""",4\n');
});

afterAll(() => rmSync(folder, { recursive: true }));

describe('linebudget plan', () => {
  it('prints the report as text, a line of summary beside, and ends as an audit does', async () => {
    const report = await auditPlan(PLAN);
    const summary = `${FILE}: ${summaryLine(report)}\n`;
    expect(await linebudget('plan', FILE)).toMatchObject({ code: 1, stdout: formatText(report), stderr: summary });
    expect(await linebudget('plan', FILE, '--fail-on', 'never')).toMatchObject({ code: 0 });
    expect(await linebudget('plan', at('fine.csv'))).toMatchObject({ code: 0 });
    expect(await linebudget('plan', at('fine.csv'), '--fail-on', 'note')).toMatchObject({ code: 0 });
  });

  it.each(FORMAT_NAMES)('writes %s', async (format) => {
    const { code } = await linebudget('plan', FILE, '--format', format, '--out', at(format));
    expect(code).toBe(1);
    const expected = await FORMATS[format].format(await auditPlan(PLAN), { archive: FILE });
    expect(readFileSync(at(format))).toEqual(Buffer.from(expected));
  });

  it('judges by policy, products and site sheet', async () => {
    const { stdout } = await linebudget(
      ...['plan', FILE, '--format', 'json', '--policy', 'conservative'],
      ...['--products', at('products.csv'), '--site', at('site.yaml')],
    );
    const report = JSON.parse(stdout);
    expect(report).toMatchObject({ policy: { extends: 'conservative' }, summary: { currents: { overridden: 42 } } });
    expect(report.findings.map(({ rule }: { rule: string }) => rule)).toContain('cable-too-long');
  });

  it.each([
    ['that cannot be used', at('wrong.csv'), `linebudget: "${at('wrong.csv')}", line 2: count: "0" is not allowed;`],
    ['that is not there', at('none'), `linebudget: ${at('none')} cannot be read (ENOENT)\n`],
    ['that is no text', at('bytes'), `linebudget: ${at('bytes')} cannot be read (no valid UTF-8)\n`],
  ])('of a file %s ends with 2 and says why', async (_what, file, says) => {
    const { code, stdout, stderr } = await linebudget('plan', file);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr.startsWith(says), stderr).toBe(true);
  });

  it('of a file over a limit ends with 2', async () => {
    const { code, stderr } = await linebudget('plan', FILE, '--limit', 'reportLength=1000');
    expect([code, stderr]).toEqual([2, expect.stringContaining('[limit-exceeded]')]);
  });
});
