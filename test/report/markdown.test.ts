import fc from 'fast-check';
import type { Nodes, Root } from 'mdast';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmFromMarkdown } from 'mdast-util-gfm';
import { gfm } from 'micromark-extension-gfm';
import { describe, expect, it } from 'vitest';
import { printable } from '../../src/report/format/layout.js';
import { formatMarkdown } from '../../src/report/format/markdown.js';
import { clipped, markdownText } from '../../src/report/format/markdown-text.js';
import { INCOMPLETE, verdictSentence } from '../../src/report/format/text.js';
import { CAUTION, type Report, type ReportFinding } from '../../src/report/report.js';
import {
  HOSTILE_NAMES,
  reportOf,
  WAIVER,
  withBaseline,
  withFindings,
  withHostileNames,
  withMany,
  withWaivers,
} from '../support/reports.js';

const CONTEXT = { archive: 'plans/school' };
const INVISIBLE = /\u200B/g;

/** Another reader: a parser of CommonMark with the tables and automatic links of forges. */
const parse = (markdown: string): Root =>
  fromMarkdown(markdown, { extensions: [gfm()], mdastExtensions: [gfmFromMarkdown()] });

function textOf(node: Nodes): string {
  if ('value' in node) return node.value.replace(INVISIBLE, '');
  return 'children' in node ? node.children.map(textOf).join('') : '';
}

function all(node: Nodes, type: Nodes['type']): Nodes[] {
  const inner = 'children' in node ? node.children.flatMap((child) => all(child, type)) : [];
  return node.type === type ? [node, ...inner] : inner;
}

interface ReadList {
  readonly heading: string;
  readonly items: readonly string[];
}

/** Each heading of findings with the items below it. */
function listsOf({ children }: Root): ReadList[] {
  return children.flatMap((node, at) => {
    if (node.type !== 'heading' || node.depth !== 3) return [];
    const next = children[at + 1];
    if (textOf(node) === 'Basis') return [];
    return [{ heading: textOf(node), items: next?.type === 'list' ? next.children.map(textOf) : [] }];
  });
}

function rowsOf(root: Root): string[][] {
  return all(root, 'tableRow').map((row) => ('children' in row ? row.children.map(textOf) : []));
}

const itemOf = ({ rule, severity, message, remedy }: ReportFinding, change = '') =>
  `${severity} ${rule}${change}: ${message}\nDo: ${remedy}`;

/** The schedule has its tests in `schedule-texts.test.ts`. */
const withoutOrders = ({ segments, ...report }: Report): Report => ({
  ...report,
  segments: segments.map((segment) => ({ ...segment, proposal: { ...segment.proposal, action: 'stays' } })),
  newMainLines: [],
  schedule: [],
  notScheduled: [],
});

const read = (report: Report) => parse(formatMarkdown(withoutOrders(report), CONTEXT));

describe('the summary in Markdown', () => {
  it('begins with the verdict, and ends with policy, digests and the caution', async () => {
    const report = await reportOf('school');
    const root = read(report);
    const texts = root.children.map(textOf);
    expect(texts[1]).toBe(verdictSentence(report.summary));
    expect(texts[2]).toBe('Archive plans/school: 9 errors, 11 warnings, 5 notes.');
    expect(texts.at(-1)).toBe(`Caution: ${CAUTION}`);
    expect(texts.at(-2)).toContain(report.policy.sha256);
    expect(texts.at(-2)).toContain(report.archive.sha256);
  });

  it('has a row for each segment that is not fine, worst first', async () => {
    const report = await reportOf('school');
    const [head, ...rows] = rowsOf(read(report));
    // fixtures/school.md, figures
    expect(rows.map((row) => `${row[0]} ${row[6]}`)).toEqual([
      '1.2 insufficient',
      '3.0 unfed',
      '3.1 unfed',
      '1.6 undecidable: feed not known',
      '2.4 undecidable: rating not known',
      '3.2 undecidable: supplies not admissible together',
      '3.3 undecidable: supplies not admissible together',
      '1.4 tight',
    ]);
    expect(rows[0]).toEqual(['1.2', 'Ground floor east', '362.7 mA', '320 mA', '113.4 %', '−106.7 mA', 'insufficient']);
    for (const row of rows) expect(row).toHaveLength(head?.length ?? 0);
    expect(rowsOf(read(await reportOf('house')))).toEqual([]); // nothing but sufficient there
  });

  it('has every finding with what to do, by severity', async () => {
    const report = await reportOf('school');
    const of = (severity: string) => report.findings.filter((one) => one.severity === severity);
    expect(listsOf(read(report))).toEqual([
      { heading: 'Errors (9)', items: of('error').map((one) => itemOf(one)) },
      { heading: 'Warnings (11)', items: of('warning').map((one) => itemOf(one)) },
      { heading: 'Notes (5)', items: of('note').map((one) => itemOf(one)) },
    ]);
  });

  it('puts what is new since the baseline first, and says what has changed', async () => {
    const report = withBaseline(await reportOf('school'));
    const lists = listsOf(read(report));
    const fresh = report.findings.filter(({ sinceBaseline }) => sinceBaseline === 'new');
    expect(new Set(fresh.map(({ severity }) => severity)).size).toBe(3);
    expect(lists[0]).toEqual({
      heading: `New since the baseline (${fresh.length})`,
      items: fresh.map((one) => itemOf(one)),
    });
    const known = report.findings.filter(({ sinceBaseline }) => sinceBaseline !== 'new');
    expect(lists.slice(1).flatMap(({ items }) => items)).toEqual(
      known.map((one) => itemOf(one, one.sinceBaseline === 'unchanged' ? '' : `, ${one.sinceBaseline}`)),
    );
  });

  it('folds what is waived, with the reason, and counts it', async () => {
    const report = withWaivers(await reportOf('school'));
    const root = read(report);
    const at = root.children.findIndex((node) => node.type === 'html');
    const [open, list, close] = root.children.slice(at, at + 3);
    const texts = [open, close].map((node) => node && textOf(node));
    expect(texts).toEqual(['<details><summary>9 waived</summary>', '</details>']);
    const waived = report.findings.filter(({ waiver }) => waiver !== null);
    const because = `${WAIVER.reason} (${WAIVER.author}, until ${WAIVER.expires})`;
    expect(list?.type === 'list' && list.children.map(textOf)).toEqual(
      waived.map(({ rule, message }) => `${rule}: ${message}\nWaived: ${because}`),
    );
    expect(textOf(root)).toContain('9 waived.');
    expect(listsOf(root).flatMap(({ items }) => items)).toHaveLength(report.findings.length - 9);
  });

  it('says that nothing is found, and that an audit is not complete', async () => {
    const report = withFindings(await reportOf('school'), []);
    expect(read(report).children.map(textOf)).toContain('No findings.');
    expect(formatMarkdown(report, CONTEXT)).not.toContain(INCOMPLETE);
    const incomplete = { ...report, summary: { ...report.summary, complete: false } };
    expect(read(incomplete).children.map(textOf)).toContain(INCOMPLETE);
  });

  it('stays within a comment and says of each list what is cut', async () => {
    const school = await reportOf('school');
    const many = withMany(school, 25_001);
    const segments = Array.from({ length: 500 }, () => school.segments).flat();
    const findings = many.findings.map((one, index) => (index % 2 === 0 ? { ...one, waiver: WAIVER } : one));
    const report = { ...withFindings(many, findings), segments };
    const markdown = formatMarkdown(withoutOrders(report), CONTEXT);
    expect(markdown.length).toBeLessThanOrEqual(60_000);
    expect(markdown.length).toBeGreaterThan(55_000); // the room is used

    const root = parse(markdown);
    const remarks = root.children.map(textOf).flatMap((text) => /^(\d+) shown of (\d+);/.exec(text)?.slice(1, 3) ?? []);
    const lists = listsOf(root);
    const { error, warning, note } = report.summary.findings;
    expect(lists.map(({ heading }) => heading)).toEqual([
      `Errors (${error})`,
      `Warnings (${warning})`,
      `Notes (${note})`,
    ]);
    const waived = all(root, 'listItem').filter((node) => textOf(node).includes('\nWaived: ')).length;
    expect(remarks.map(Number)).toEqual([
      ...[rowsOf(root).length - 1, 8 * 500],
      ...[lists[0]?.items.length, error],
      ...[0, warning],
      ...[0, note],
      ...[waived, report.summary.waived],
    ]);
    expect(Math.min(rowsOf(root).length, lists[0]?.items.length ?? 0, waived)).toBeGreaterThan(20);
  });

  it('stays within a comment whatever the length of names', async () => {
    const report = await reportOf('school');
    const long = '|'.repeat(50_000);
    const findings = report.findings.map((one) => ({ ...one, message: long, remedy: long, waiver: null }));
    const waived = { ...WAIVER, reason: long, author: long };
    const cases = [findings, findings.map((one) => ({ ...one, waiver: waived }))];
    for (const each of cases) {
      const segments = report.segments.map((one) => ({ ...one, name: long, label: long }));
      const markdown = formatMarkdown({ ...withFindings(report, each), segments }, { archive: long });
      expect(markdown.length).toBeLessThanOrEqual(60_000);
      expect(/^\d+ shown of (9|25);/m.test(markdown)).toBe(true);
    }
  });

  it.each(HOSTILE_NAMES)('keeps a hostile name text: %j', async (name) => {
    const one = withHostileNames(await reportOf('school'));
    const markdown = formatMarkdown(withoutOrders(one), { archive: name });
    const root = parse(markdown);
    for (const type of [
      'link',
      'image',
      'linkReference',
      'imageReference',
      'footnoteReference',
      'delete',
      'emphasis',
    ] as const)
      expect(all(root, type)).toEqual([]);
    expect(all(root, 'html').map(textOf)).toEqual(['<details><summary>1 waived</summary>', '</details>']);
    for (const row of rowsOf(root)) expect(row).toHaveLength(7);
    expect(all(root, 'heading')).toHaveLength(5);
    expect(all(root, 'code')).toEqual([]);
    expect(textOf(root).includes(`Archive ${printable(name)}: 8 errors`)).toBe(true);
  });
});

/** What a forge makes a link of in the text that the Markdown gives (from memory, not confirmed). */
const FORGE_LINK = /[@#!%~&$](?=[\p{L}\p{N}_"])|:\/\/|\bGH-\d|www\.|:[\w+-]+:/iu;

describe('a text as Markdown', () => {
  const text = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc
      .array(fc.constantFrom(...'\\`*_{}[]()<>#+-.!|~&$@:/"=^ %0aZ', 'www.', 'http://', 'a@b.cc', 'GH-1', '\t', '\n'), {
        maxLength: 24,
      })
      .map((pieces) => pieces.join('')),
    fc.constantFrom(...HOSTILE_NAMES),
  );
  const shownAs = (name: string) => printable(name).trim();

  it('is read back as nothing but that text, within a paragraph', () => {
    fc.assert(
      fc.property(text, (name) => {
        const { children } = parse(`- **x:** ${markdownText(name)}.\n  Do: y`);
        const [list] = children;
        const [item] = list?.type === 'list' ? list.children : [];
        const [paragraph, ...others] = item?.children ?? [];
        expect([children.length, others]).toEqual([1, []]);
        const inline = paragraph?.type === 'paragraph' ? paragraph.children.slice(1) : [];
        expect(inline.map(({ type }) => type)).toEqual(['text']);
        const [only] = inline;
        expect(only && textOf(only).trim()).toBe(`${printable(name)}.\nDo: y`.trim());
        expect(only?.type === 'text' && only.value).not.toMatch(FORGE_LINK);
      }),
      { numRuns: 1000 },
    );
  });

  it('is read back as nothing but that text, within a cell', () => {
    fc.assert(
      fc.property(text, (name) => {
        const { children } = parse(`| a | b |\n| --- | --- |\n| ${markdownText(name)} | ${markdownText(name)} |`);
        const [table] = children;
        expect(children).toHaveLength(1);
        const cells = table?.type === 'table' ? (table.children[1]?.children ?? []) : [];
        expect(cells.map((cell) => textOf(cell).trim())).toEqual([shownAs(name), shownAs(name)]);
        for (const { type } of cells.flatMap((cell) => cell.children)) expect(type).toBe('text');
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    ['abcd', 4, 'abcd'],
    ['abcde', 4, 'abc…'],
    ['\u{1F50C}\u{1F50C}\u{1F50C}', 2, '\u{1F50C}…'],
  ])('is cut only where it is longer: %j to %j', (name, most, wanted) => {
    expect(clipped(name, most)).toBe(wanted);
  });
});
