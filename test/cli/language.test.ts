import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { audit, auditPlan } from '../../src/audit.js';
import { reportRule } from '../../src/report/build.js';
import { formatMarkdown } from '../../src/report/format/markdown.js';
import { formatText, summaryLine } from '../../src/report/format/text.js';
import { rulesIn } from '../../src/rules/index.js';
import { DE } from '../../src/words/de/words.js';
import { englishWordsIn, withoutNames } from '../support/languages.js';
import { linebudget } from '../support/linebudget.js';

const at = (name: string) => fileURLToPath(new URL(`../../fixtures/${name}`, import.meta.url));
const DEMO = at('demo.zip');
const PLAN = at('example-plan.yaml');

describe('--lang de', () => {
  it('gives the report in German, and the summary with it', async () => {
    const report = await audit(readFileSync(DEMO), { words: DE });
    expect(await linebudget('audit', '--lang', 'de', DEMO)).toMatchObject({
      code: 1,
      stdout: formatText(report, { words: DE }),
      stderr: `${DEMO}: ${summaryLine(report, DE)}\n`,
    });
  });

  it('gives the Markdown in German', async () => {
    const report = await audit(readFileSync(DEMO), { words: DE });
    const { stdout } = await linebudget('audit', '--lang', 'de', '--format', 'markdown', DEMO);
    expect(stdout).toBe(formatMarkdown(report, { archive: DEMO, words: DE }));
  });

  it('changes nothing of what programs read', async () => {
    const english = await linebudget('audit', '--format', 'json', DEMO);
    expect(await linebudget('audit', '--lang', 'de', '--format', 'json', DEMO)).toEqual(english);
  });

  it('gives the report of a plan in German', async () => {
    const plan = { name: PLAN, text: readFileSync(PLAN, 'utf8') };
    const report = await auditPlan(plan, { words: DE });
    const { stdout } = await linebudget('plan', '--lang', 'de', PLAN);
    expect(stdout).toBe(formatText(report, { words: DE }));
    expect(stdout.replace(/\s+/g, ' ')).toContain('sie in die Planung eintragen');
  });

  it('lists causes in German, and for programs in English', async () => {
    const seen = ['--segment', '1.2', '--symptom', 'dead', DEMO];
    const { code, stdout } = await linebudget('diagnose', '--lang', 'de', ...seen);
    expect({ code, words: englishWordsIn(withoutNames(stdout, ['Supply 1.2'])) }).toEqual({ code: 0, words: [] });
    expect(stdout.replace(/\s+/g, ' ')).toContain(`Gemessen auf Linie 1.2: ${DE.diagnosis.symptoms.dead}.`);
    const json = await linebudget('diagnose', '--format', 'json', ...seen);
    expect(await linebudget('diagnose', '--lang', 'de', '--format', 'json', ...seen)).toEqual(json);
  });

  it('explains rules in German, as text and for programs', async () => {
    const title = DE.rules['low-headroom'].title;
    const { stdout } = await linebudget('rules', '--lang', 'de', 'low-headroom');
    expect(stdout).toContain(`low-headroom (Warnung): ${title}\nWarum: `);
    const { stdout: json } = await linebudget('rules', '--lang', 'de', '--format', 'json');
    expect(JSON.parse(json)).toEqual(rulesIn(DE).map((rule) => reportRule(rule)));
  });
});

it('the environment sets no language', async () => {
  const { stdout } = await linebudget('rules', 'low-headroom');
  expect(stdout).toMatch(/^low-headroom \(warning\): /);
});
