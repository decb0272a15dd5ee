import { beforeAll, describe, expect, it } from 'vitest';
import { POLICY_SOURCES } from '../../src/policy/built-in.js';
import { formatHtml } from '../../src/report/format/html.js';
import type { Report } from '../../src/report/report.js';
import { POLICY_SOURCES as GERMAN_SOURCES } from '../../src/words/de/page/policy-sources.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';
import type { Words } from '../../src/words/words.js';
import { attribute, type Element, parsed, plannedReport, sitedReport, splitReport } from '../report/html/pages.js';
import { englishWordsIn, TYPED, withoutNames } from '../support/languages.js';
import { reportOfPlant } from '../support/reports.js';
import { SIZED_PLANTS } from '../support/sized-plants.js';

/** The page in German holds no English. */

type Node = Element['childNodes'][number];

/** What is typed as it stands in any language, or is not shown. */
const LEFT_OUT = new Set(['code', 'style', 'script']);

/** Texts that a reader sees or hears, block by block; attributes that are read aloud among them. */
function textsOf(node: Node): string[] {
  if ('value' in node) return [node.value];
  if (!('childNodes' in node)) return [];
  if ('tagName' in node && LEFT_OUT.has(node.tagName)) return [];
  // Blanks in braces are for the script, which fills them in.
  const spoken =
    'tagName' in node
      ? [attribute(node, 'aria-label') ?? '', (attribute(node, 'data-shown') ?? '').replace(/\{\w+\}/g, '')]
      : [];
  return [...spoken, ...node.childNodes.flatMap(textsOf)];
}

/** What people called things, or wrote themselves. */
function namesIn({ projects, segments, schedule, unknowns, findings }: Report): (string | null)[] {
  const ofSegments = segments.flatMap(({ name, lineName, devices, supply, onSite, proposal }) => [
    ...[name, lineName],
    ...devices.flatMap(({ name: own, product, orderNumber, location, manufacturer }) => [
      own,
      product,
      orderNumber,
      location,
      manufacturer,
    ]),
    ...devices.map(({ product, orderNumber }) => `${product} (${orderNumber})`.slice(0, 39)),
    ...supply.units.flatMap((unit) => [unit.name, unit.board, unit.mainsCircuit]),
    ...(onSite?.voltages?.profile.points.map((point) => point.name) ?? []),
    ...(proposal.moves?.sharedPlaces ?? []),
  ]);
  return [
    ...projects.flatMap(({ name, installations }) => [name, ...installations.map((one) => one.name)]),
    ...ofSegments,
    ...findings.flatMap(({ subject }) => (subject.kind === 'device' ? subject.label : [])),
    ...schedule.filter(({ place }) => !/^area \d+$/.test(place)).map(({ place }) => place),
    ...unknowns.flatMap(({ product, manufacturer, orderNumber }) => [product, manufacturer, orderNumber]),
    ...['school.zip', 'common-practice'],
  ];
}

function textIn({ elements }: Parsed, report: Report): string {
  const body = elements.find(({ tagName }) => tagName === 'body');
  const names = namesIn(report);
  const unmarked = textsOf(body as Element)
    .join(' | ')
    .replace(TYPED, ' ');
  // Where a name is cut in a picture, what is left of it is a name still.
  const cut = unmarked.replace(/[^|]*…/g, ' ');
  return withoutNames(cut, names).replace(/\b(?:SHA|sha)-256\b/g, ' ');
}

type Parsed = ReturnType<typeof parsed>;

interface Made {
  readonly report: Report;
  readonly page: string;
  readonly read: Parsed;
}

async function madeIn(words: Words, make: (words: Words) => Promise<Report>): Promise<Made> {
  const report = await make(words);
  const page = await formatHtml(report, { archive: 'school.zip', words });
  return { report, page, read: parsed(page) };
}

/** Of a plant as large as this the page takes seconds to be read; its texts are those of other plants. */
const TOO_LARGE = 'too many devices together';

const REPORTS: readonly [string, (words: Words) => Promise<Report>][] = [
  ['the school with its site sheet', sitedReport],
  ['a plan', plannedReport],
  ['a split with a schedule', splitReport],
  ...SIZED_PLANTS.filter(([what]) => what !== TOO_LARGE).map(
    ([what, plant]): [string, (words: Words) => Promise<Report>] => [what, (words) => reportOfPlant(plant, words)],
  ),
];

describe.each(REPORTS)('the German page of %s', (_name, make) => {
  let german: Made;
  let text: string;

  beforeAll(async () => {
    german = await madeIn(DE, make);
    text = textIn(german.read, german.report);
  });

  it('leaves no English', () => {
    expect(englishWordsIn(text)).toEqual([]);
  });

  it('says that it is German, and has decimal commas', () => {
    expect(german.page).toMatch(/<html lang="de" data-sheet="Busspannungsversorgung: [^"]+ SHA-256 [0-9a-f]{12}">/);
    expect(text.match(/\d\.\d+ (?:mA|V|m|Ah|h|%)(?!\p{L})/gu)).toBeNull();
  });

  it('tells of the same figures in the same places', async () => {
    const cellsOf = ({ read }: Made) => read.elements.flatMap((one) => attribute(one, 'data-v') ?? []);
    expect(cellsOf(german)).toEqual(cellsOf(await madeIn(EN, make)));
  });
});

describe('the check for English', () => {
  it('finds it where there is some', async () => {
    const { read, report } = await madeIn(EN, sitedReport);
    const text = textIn(read, report);
    expect(new Set(englishWordsIn(text)).size).toBeGreaterThan(30);
  });
});

describe('sources of the policy', () => {
  it('are there for every value, with the same figures', () => {
    expect(Object.keys(GERMAN_SOURCES).sort()).toEqual(Object.keys(POLICY_SOURCES).sort());
    const numbers = (text: string) => (text.match(/\d+(?:[.,]\d+)*/g) ?? []).map((one) => one.replace(',', '.')).sort();
    for (const [key, { source }] of Object.entries(POLICY_SOURCES)) {
      expect(numbers(GERMAN_SOURCES[key as keyof typeof GERMAN_SOURCES]), key).toEqual(numbers(source));
    }
  });

  it('name the file that has set a value', () => {
    const source = 'set by hand in the policy file (targetLoad)';
    expect(DE.page.names.policySource({ key: 'targetLoad', source })).toBe(
      'von Hand gesetzt in der Vorgabendatei (targetLoad)',
    );
    expect(EN.page.names.policySource({ key: 'targetLoad', source })).toBe(source);
  });
});
