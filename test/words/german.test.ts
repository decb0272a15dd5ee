import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { type AuditOptions, audit, auditPlan } from '../../src/audit.js';
import { readGiven } from '../../src/given.js';
import { againstBaseline } from '../../src/report/baseline.js';
import { FORMATS, wordsFor } from '../../src/report/format/index.js';
import { formatMarkdown } from '../../src/report/format/markdown.js';
import { formatText, summaryLine } from '../../src/report/format/text.js';
import { proposalsText } from '../../src/report/format/text-proposals.js';
import { scheduleText } from '../../src/report/format/text-schedule.js';
import type { Report } from '../../src/report/report.js';
import { RULES, rulesIn } from '../../src/rules/index.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';
import type { Words } from '../../src/words/words.js';
import { fixtureArchive } from '../support/archives.js';
import { englishWordsIn, figuresIn, TYPED, withoutNames } from '../support/languages.js';
import { contextOf } from '../support/plants.js';
import { randomPlant } from '../support/random-specs.js';
import { reportOfPlant } from '../support/reports.js';
import { SIZED_PLANTS } from '../support/sized-plants.js';

/** What people called things, or wrote themselves. */
function namesIn({ projects, segments, findings }: Report): (string | null)[] {
  return [
    ...findings.flatMap(({ subject, waiver }) => [
      subject.kind === 'device' ? subject.label : null,
      ...(waiver === null ? [] : Object.values(waiver)),
    ]),
    ...projects.flatMap(({ name }) => [name]),
    ...segments.flatMap(({ name, lineName, devices, supply, onSite }) => [
      name,
      lineName,
      ...devices.flatMap((device) => [device.name, device.product, device.orderNumber, device.location]),
      ...supply.units.map((unit) => unit.name),
      ...(onSite?.voltages?.profile.points.map((point) => point.name) ?? []),
    ]),
  ];
}

/** A text for people without what is no German in any case. */
function plain(text: string, report: Report): string {
  return withoutNames(text.replace(TYPED, ' '), namesIn(report));
}

const FIXTURES = ['house', 'repeaters', 'school', 'twin-new', 'twin-old'];

const given = (name: string) => readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), 'utf8');

async function optionsFor(fixture: string): Promise<AuditOptions> {
  if (fixture !== 'school') return {};
  const site = { name: 'site', text: given('example-site.yaml') };
  const waivers = { name: 'waivers', text: given('example-waivers.yaml') };
  return { ...(await readGiven({ site, waivers })), asOf: '2026-06-01' };
}

/** Its figure is whatever a product declares, a comma or a point in it. */
const AS_DECLARED = 'device-unplaced';

type Pair = { readonly english: Report; readonly german: Report };

async function pairOf(fixture: string): Promise<Pair> {
  const archive = await fixtureArchive(fixture);
  const options = await optionsFor(fixture);
  return { english: await audit(archive, options), german: await audit(archive, { ...options, words: DE }) };
}

const pairs = new Map<string, Pair>();

beforeAll(async () => {
  for (const fixture of FIXTURES) pairs.set(fixture, await pairOf(fixture));
  const plan = { name: 'plan.yaml', text: given('example-plan.yaml') };
  pairs.set('plan', { english: await auditPlan(plan), german: await auditPlan(plan, { words: DE }) });
  for (const [what, plant] of SIZED_PLANTS) {
    pairs.set(what, { english: await reportOfPlant(plant), german: await reportOfPlant(plant, DE) });
  }
});

const pair = (name: string) => pairs.get(name) as Pair;
const ALL = [...FIXTURES, 'plan', ...SIZED_PLANTS.map(([what]) => what)];

/** The only values of a report that may differ with the language: what is words. */
const TEXTS = new Set(
  ['message', 'remedy', 'quantity', 'source', 'missing', 'notes', 'title', 'why', 'limit', 'caution', 'wanted'].concat([
    ...['assumed', 'methods', 'takers', 'what', 'medium', 'waived', 'because', 'conditions', 'text', 'measure'],
  ]),
);

/** What stands in the place of a name, where there is none. */
const NAMELESS = new Map([
  [EN.facts.noProductNamed, DE.facts.noProductNamed],
  [EN.facts.noProduct, DE.facts.noProduct],
  [EN.facts.theSiteSheet, DE.facts.theSiteSheet],
]);

/** Where two values differ by more than their texts, by path. */
function differences(a: unknown, b: unknown, path: readonly string[] = []): string[] {
  if (typeof a !== typeof b || (a === null) !== (b === null)) return [path.join('.')];
  if (typeof a !== 'object' || a === null || b === null) {
    const isText = typeof a === 'string' && path.some((key) => TEXTS.has(key));
    const isNameless = typeof a === 'string' && NAMELESS.get(a) === b;
    return a === b || isText || isNameless ? [] : [path.join('.')];
  }
  const [keysA, keysB] = [Object.keys(a), Object.keys(b as object)];
  if (keysA.join() !== keysB.join()) return [`${path.join('.')}: ${keysA} / ${keysB}`];
  return keysA.flatMap((key) =>
    differences(a[key as keyof typeof a], (b as typeof a)[key as keyof typeof a], [...path, key]),
  );
}

/** Every number of a text, addresses among them, whichever mark its decimals have. */
function numbersIn(text: string): string[] {
  return (text.match(/\d+(?:[.,]\d+)*/g) ?? []).map((one) => one.replace(',', '.')).sort();
}

/** What a proposal says of why, and of what it depends on. */
function reasonsOf(proposal: Report['segments'][number]['proposal'] | undefined): string {
  const { because = null, conditions = [], moves = null } = proposal ?? {};
  return [because ?? '', ...conditions, ...(moves?.conditions ?? [])].join(' ');
}

describe.each(ALL)('%s in German', (name) => {
  it('leaves no English in the text', () => {
    const { german } = pair(name);
    const text = plain(formatText(german, { words: DE }), german);
    expect(englishWordsIn(text)).toEqual([]);
    expect(englishWordsIn(summaryLine(german, DE))).toEqual([]);
  });

  it('leaves no English in the Markdown', () => {
    const { german } = pair(name);
    expect(englishWordsIn(plain(formatMarkdown(german, { archive: '', words: DE }), german))).toEqual([]);
  });

  it('has decimal commas', () => {
    const { german } = pair(name);
    const text = plain(formatText(german, { words: DE }), german);
    expect(text.match(/\d\.\d+ (?:mA|V|m|Ah|h|%)(?!\p{L})/gu)).toBeNull();
  });

  it('says the same in other words: no figure, judgement or fingerprint differs', () => {
    const { english, german } = pair(name);
    expect(differences(english, german)).toEqual([]);
  });

  it('tells in every finding of the same figures', () => {
    const { english, german } = pair(name);
    english.findings.forEach((finding, index) => {
      const other = german.findings[index];
      if (finding.rule === AS_DECLARED) return;
      expect(figuresIn(other?.message ?? '', ','), other?.message).toEqual(figuresIn(finding.message, '.'));
      expect(figuresIn(other?.remedy ?? '', ','), other?.remedy).toEqual(figuresIn(finding.remedy, '.'));
    });
  });

  it('tells of supplies with the same figures', () => {
    const { english, german } = pair(name);
    const told = (report: Report, words: Words) => proposalsText(report, words) + scheduleText(report, words);
    expect(numbersIn(told(german, DE))).toEqual(numbersIn(told(english, EN)));
    german.segments.forEach(({ proposal }, index) => {
      const other = english.segments[index]?.proposal;
      expect(numbersIn(reasonsOf(proposal)), reasonsOf(proposal)).toEqual(numbersIn(reasonsOf(other)));
    });
  });

  it('finds nothing new, and nothing worse, against its English report', () => {
    const { english, german } = pair(name);
    const { findings } = againstBaseline(german, english);
    expect(findings.filter(({ sinceBaseline }) => sinceBaseline !== 'unchanged')).toEqual([]);
  });
});

describe('the check for English', () => {
  it('finds it where there is some', () => {
    const { english } = pair('school');
    expect(new Set(englishWordsIn(plain(formatText(english), english))).size).toBeGreaterThan(30);
    expect(figuresIn('1.5 mA, −20 % of 3 m', '.')).toEqual([-20, 1.5, 3]);
  });
});

describe('rules in German', () => {
  it('are the same rules', () => {
    expect(rulesIn(DE).map(({ id, severity, basis }) => [id, severity, basis])).toEqual(
      RULES.map(({ id, severity, basis }) => [id, severity, basis]),
    );
  });

  it.each(rulesIn(DE).map((rule) => [rule.id, rule] as const))('%s leaves no English', (_, rule) => {
    const text = [rule.title, rule.why, rule.remedy, rule.limit, rule.source].join(' ').replace(TYPED, ' ');
    expect(englishWordsIn(text)).toEqual([]);
  });

  it.each(RULES.map((rule) => [rule.id, rule] as const))('%s names the same figures and sections', (id, rule) => {
    const other = DE.rules[id as keyof typeof DE.rules];
    for (const part of ['limit', 'source'] as const)
      expect(numbersIn(other[part]), part).toEqual(numbersIn(rule[part]));
  });
});

describe('on random plants', () => {
  it('both languages give one report, but for its words', async () => {
    await fc.assert(
      fc.asyncProperty(randomPlant, async (plant) => {
        fc.pre(contextOf(plant).balances.length > 0); // without a segment there is no report
        const [english, german] = [await reportOfPlant(plant), await reportOfPlant(plant, DE)];
        expect(differences(english, german)).toEqual([]);
        english.findings.forEach(({ rule, message, remedy }, index) => {
          const other = german.findings[index];
          if (rule === AS_DECLARED) return;
          expect(figuresIn(`${other?.message} ${other?.remedy}`, ',')).toEqual(figuresIn(`${message} ${remedy}`, '.'));
        });
        const text = formatText(german, { words: DE });
        expect(text).not.toMatch(/undefined|NaN|null|\[object/);
        expect(text.split('\n\n').length).toBe(formatText(english).split('\n\n').length);
      }),
      { numRuns: 60 },
    );
  });
});

describe('formats', () => {
  it('for people are written in the language that is asked for, all others in English', async () => {
    const inGerman = await Promise.all(
      Object.keys(FORMATS).map(async (name) => [name, await wordsFor(name as keyof typeof FORMATS, 'de')] as const),
    );
    expect(inGerman.filter(([, words]) => words === DE).map(([name]) => name)).toEqual(['text', 'markdown', 'html']);
    expect(await wordsFor('text', 'en')).toBe(EN);
  });
});
