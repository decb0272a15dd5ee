import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readChanges } from '../../src/changes/changes.js';
import { changeInWords } from '../../src/changes/words.js';
import { readGiven } from '../../src/given.js';
import { builtIn } from '../../src/policy/effective.js';
import { COMPARISON_FORMAT_NAMES, COMPARISON_FORMATS } from '../../src/report/compare/formats.js';
import { comparisonSentence, formatComparisonText } from '../../src/report/compare/text.js';
import { whatIf } from '../../src/what-if.js';
import { FIXTURES } from '../support/archives.js';
import { linebudget } from '../support/linebudget.js';

const DEMO = join(FIXTURES, 'demo.zip');
const FILE = join(FIXTURES, 'example-changes.yaml');
const archive = readFileSync(DEMO);
const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const at = (name: string) => join(folder, name);
const MORE = ['--add', '4 of AF-SA8 on 1.5'];

beforeAll(() => {
  writeFileSync(at('wrong.yaml'), 'changes: [{line: "1.5", add: 0, product: AF-SA8}]');
  writeFileSync(at('waivers.yaml'), 'waivers: []');
  writeFileSync(at('site.yaml'), 'segments: [{segment: "1.5", totalLength: 300 m, cable: 0.8 mm pair}]');
  writeFileSync(at('letter'), 'Dear planner');
});

afterAll(() => rmSync(folder, { recursive: true }));

const words = (...texts: readonly string[]) => texts.map((text) => changeInWords('add', text));
const resultOf = async () => readChanges(readFileSync(FILE, 'utf8'), FILE);

describe('linebudget what-if', () => {
  it('prints the comparison as text, a sentence beside, and ends with 1 where a new error comes of it', async () => {
    const comparison = await whatIf({ archive, changes: words('4 of AF-SA8 on 1.5') });
    expect(await linebudget('what-if', DEMO, ...MORE)).toMatchObject({
      code: 1,
      stdout: formatComparisonText(comparison),
      stderr: `${DEMO}: ${comparisonSentence(comparison)}\n`,
    });
    expect(await linebudget('what-if', DEMO, ...MORE, '--fail-on', 'never')).toMatchObject({ code: 0 });
  });

  it('ends with 0 where the new ones are only warnings, unless it is asked to mind them', async () => {
    const tight = ['what-if', DEMO, '--add', '1 of 5 mA on 1.5'];
    expect(await linebudget(...tight)).toMatchObject({
      code: 0,
      stdout: expect.stringContaining('sufficient → tight'),
    });
    expect(await linebudget(...tight, '--fail-on', 'new:warning')).toMatchObject({ code: 1 });
  });

  it.each(COMPARISON_FORMAT_NAMES)('writes %s of a file of changes and of options together', async (format) => {
    const changes = [
      ...(await resultOf()),
      ...words('1 of 9 mA on 1.3 segment 1', '1 of AF-SA8 on 1.1'),
      changeInWords('remove', '1 of QH-PB4 on 1.5'),
      changeInWords('supply', '160 mA on 3.1'),
    ];
    const { code, stdout } = await linebudget(
      ...['what-if', DEMO, '--changes', FILE, '--supply', '160 mA on 3.1', '--remove', '1 of QH-PB4 on 1.5'],
      ...[
        '--add',
        '1 of 9 mA on 1.3 segment 1',
        '--add',
        '1 of AF-SA8 on 1.1',
        '--format',
        format,
        '--out',
        at(format),
      ],
    );
    expect([code, stdout]).toEqual([0, '']);
    expect(readFileSync(at(format), 'utf8')).toBe(
      COMPARISON_FORMATS[format].format(await whatIf({ archive, changes })),
    );
  });

  it('judges by what an audit is judged by', async () => {
    const { stdout } = await linebudget(
      ...['what-if', DEMO, ...MORE, '--format', 'json', '--policy', 'conservative', '--site', at('site.yaml')],
      ...['--waivers', at('waivers.yaml'), '--as-of', '2027-01-01'],
    );
    const site = { name: 'site', text: readFileSync(at('site.yaml'), 'utf8') };
    const given = await readGiven({ site }, builtIn('conservative'));
    const changes = words('4 of AF-SA8 on 1.5');
    const { policy, waivers } = given;
    expect(JSON.parse(stdout)).toEqual(
      await whatIf({ archive, changes, policy, site: given.site, waivers, asOf: '2027-01-01' }),
    );
  });

  it.each<[string, string[], string]>([
    ['a change that is not understood', [DEMO, '--add', 'four'], 'linebudget: --add "four" is not understood; say it'],
    [
      'a product that is not there',
      [DEMO, '--add', '4 of AF-SA9 on 1.5'],
      'linebudget: --add "4 of AF-SA9 on 1.5": "AF-SA9" is no product of the archive; nearest: "AF-',
    ],
    [
      'more than there is',
      [DEMO, '--remove', '40 of QH-PB4 on 1.5'],
      'linebudget: --remove "40 of QH-PB4 on 1.5": 40 of "QH-PB4" cannot go from 1.5: there are 11 [invalid-changes]',
    ],
    [
      'a file of changes that cannot be used',
      [DEMO, '--changes', at('wrong.yaml')],
      `linebudget: "${at('wrong.yaml')}": changes[0].add: "0" is not allowed;`,
    ],
    [
      'a file of changes that is not there',
      [DEMO, '--changes', at('none')],
      `linebudget: --changes ${at('none')} cannot be read (ENOENT)\n`,
    ],
    ['an archive that is not there', [at('none'), ...MORE], `linebudget: ${at('none')} cannot be read (ENOENT)\n`],
    ['an archive that is none', [at('letter'), ...MORE], 'linebudget: '],
    [
      'an archive over a limit',
      [DEMO, ...MORE, '--limit', 'uploadBytes=100'],
      `linebudget: ${DEMO}: the archive has more than 100 bytes`,
    ],
  ])('of %s ends with 2 and says why', async (_what, args, says) => {
    const { code, stdout, stderr } = await linebudget('what-if', ...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr.startsWith(says), stderr).toBe(true);
  });
});
