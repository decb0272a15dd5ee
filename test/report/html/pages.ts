import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type DefaultTreeAdapterMap, parse } from 'parse5';
import { audit, auditPlan, auditRecords } from '../../../src/audit.js';
import { readGiven } from '../../../src/given.js';
import { COMMON_PRACTICE } from '../../../src/policy/built-in.js';
import { DEFAULT_POLICY } from '../../../src/policy/effective.js';
import { formatHtml } from '../../../src/report/format/html.js';
import type { Report } from '../../../src/report/report.js';
import { EN } from '../../../src/words/en/words.js';
import { FIXTURES, fixtureArchive } from '../../support/archives.js';
import { ARCHIVE_DIGEST, consumer, recordOf, supply } from '../../support/plants.js';

type Node = DefaultTreeAdapterMap['node'];
export type Element = DefaultTreeAdapterMap['element'];

export const CONTEXT = { archive: 'plans/school.zip' };

/** The page as another parser reads it, with the errors of the markup that it found (WHATWG HTML, "Parsing"). */
export function parsed(page: string) {
  const errors: string[] = [];
  const root = parse(page, { onParseError: ({ code, startLine }) => errors.push(`${code}, line ${startLine}`) });
  return { errors, elements: elementsOf(root) };
}

export async function readPage(report: Report): Promise<Element[]> {
  return parsed(await formatHtml(report, CONTEXT)).elements;
}

function elementsOf(node: Node): Element[] {
  const inner = 'childNodes' in node ? node.childNodes.flatMap(elementsOf) : [];
  return 'tagName' in node ? [node, ...inner] : inner;
}

export const attribute = ({ attrs }: Element, name: string): string | undefined =>
  attrs.find((one) => one.name === name)?.value;

export function textOf(node: Node): string {
  if ('value' in node) return node.value;
  return 'childNodes' in node ? node.childNodes.map(textOf).join('') : '';
}

export const all = (elements: readonly Element[], tag: string): Element[] =>
  elements.filter(({ tagName }) => tagName === tag);

export const byId = (elements: readonly Element[], id: string): Element | undefined =>
  elements.find((element) => attribute(element, 'id') === id);

export const withClass = (elements: readonly Element[], name: string): Element[] =>
  elements.filter((element) => attribute(element, 'class')?.split(' ').includes(name));

export const inside = (element: Element): Element[] => element.childNodes.flatMap(elementsOf);

const given = (name: string) => readFileSync(join(FIXTURES, name), 'utf8');

/** The school with all that its site sheet says. */
export async function sitedReport(words = EN): Promise<Report> {
  const { site } = await readGiven({ site: { name: 'site', text: given('example-site.yaml') } });
  return audit(await fixtureArchive('school'), { site, words });
}

/** A plan before there is an export: it has no parts, and no schema. */
export async function plannedReport(words = EN): Promise<Report> {
  return auditPlan({ name: 'plan.yaml', text: given('example-plan.yaml') }, { words });
}

/** A plan of some lines, as a plan file has them. */
export function plannedWith(lines: readonly object[]): Promise<Report> {
  return auditPlan({ name: 'plan.json', text: JSON.stringify({ project: 'Mill House', lines }) });
}

/** A line that is split, with a main line that it needs above, supplies that have a price, and one without a schedule. */
export async function splitReport(words = EN): Promise<Report> {
  const stock = [
    { ratingMa: 640, kinds: ['plain' as const], railUnits: 4, price: 120.5, orderNumber: 'PS-640' },
    { ratingMa: 320, kinds: ['plain' as const], orderNumber: 'PS-320' },
  ];
  const on = (board: string, from: number) =>
    Array.from({ length: 55 }, (_, at) => consumer(from + at, 12.5, { places: ['House', board] }));
  const lines = [
    { line: '1.1', segments: [[supply(640), ...on('A', 1), ...on('B', 101)]] },
    { line: '1.9', segments: [[supply(640), { ...supply(), name: 'Old' }, consumer(1, 100)]] },
  ];
  const policy = { ...DEFAULT_POLICY, values: { ...COMMON_PRACTICE, stock } };
  const file = { source: 'archive', sha256: ARCHIVE_DIGEST, bytes: 1, partsRead: [] } as const;
  return auditRecords([recordOf({ lines })], file, { policy, words });
}

/** Every text of a report, but what says where it belongs, turned into another. */
export function withEveryText(report: Report, hostile: string): Report {
  return replaced(report, '', hostile) as Report;
}

/** What the page looks up: names of rules, verdicts and the like are words of ours, never of an archive. */
const OURS =
  /^(id|rule|severity|inForce|verdict|segments|segment|segmentId|project|action|method|kind|origin|status|state|item|basis|key|restsOn|quantity|unit|holds|feed|chargedAs|against|source|sinceBaseline|wanted|item|with|judgedWith|devices|to|setBy|extends|role|atLow|atHigh|nearness|connectedBy)$/;

function replaced(value: unknown, key: string, hostile: string): unknown {
  if (typeof value === 'string') return OURS.test(key) ? value : hostile;
  if (Array.isArray(value)) return value.map((one) => replaced(one, key, hostile));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, replaced(one, name, hostile)]));
}

/** Cells of a table’s body, by row. */
export const rowsOf = (element: Element): string[][] =>
  all(inside(element), 'tr').map((row) =>
    inside(row)
      .filter(({ tagName }) => /^t[dh]$/.test(tagName))
      .map(textOf),
  );

export const captioned = (elements: readonly Element[], caption: string): Element | undefined =>
  all(elements, 'table').find((one) => inside(one).some((of) => of.tagName === 'caption' && textOf(of) === caption));

/** The row of a table by what it has under some of its headings. */
export const underHeadings = (table: Element | undefined, headings: readonly string[]): string[][] => {
  const [head = [], ...rows] = rowsOf(table as Element);
  return rows.map((row) => headings.map((heading) => row[head.indexOf(heading)] ?? `no column ${heading}`));
};
