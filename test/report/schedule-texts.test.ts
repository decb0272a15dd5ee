import type { Nodes } from 'mdast';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmFromMarkdown } from 'mdast-util-gfm';
import { gfm } from 'micromark-extension-gfm';
import { describe, expect, it } from 'vitest';
import { printable } from '../../src/report/format/layout.js';
import { formatMarkdown } from '../../src/report/format/markdown.js';
import { scheduleMarkdown } from '../../src/report/format/markdown-schedule.js';
import { clipped } from '../../src/report/format/markdown-text.js';
import { formatText } from '../../src/report/format/text.js';
import { scheduleText } from '../../src/report/format/text-schedule.js';
import type { NotScheduled, ScheduleRow } from '../../src/report/schedule-shape.js';
import { HOSTILE_NAMES, reportOf } from '../support/reports.js';

const ROW: ScheduleRow = {
  project: 'P-0001',
  installation: 0,
  place: 'B1',
  state: 'new',
  item: 'supply',
  ratedMa: 640,
  kind: 'plain',
  orderNumber: 'PS-640',
  quantity: 3,
  railUnits: 18,
  price: 90.1,
  sum: 270.3,
  segments: ['1.1', '1.2'],
};
const EXISTING: ScheduleRow = { ...ROW, state: 'existing', ratedMa: null, railUnits: null, price: null, sum: null };
const GAP: NotScheduled = {
  project: 'P-0001',
  installation: 0,
  segments: ['2.1'],
  action: 'split',
  because: 'nothing in stock carries it',
};

const parse = (markdown: string): Nodes =>
  fromMarkdown(markdown, { extensions: [gfm()], mdastExtensions: [gfmFromMarkdown()] });

function textOf(node: Nodes): string {
  if ('value' in node) return node.value.replace(/\u200B/g, '');
  return 'children' in node ? node.children.map(textOf).join('') : '';
}

function all(node: Nodes, type: Nodes['type']): Nodes[] {
  const inner = 'children' in node ? node.children.flatMap((child) => all(child, type)) : [];
  return node.type === type ? [node, ...inner] : inner;
}

describe('the schedule as text', () => {
  it('has what is to be ordered and taken out, totals, and what is lacking', () => {
    const schedule = [ROW, EXISTING, { ...EXISTING, state: 'remove' as const, quantity: 1 }];
    expect(scheduleText({ schedule, notScheduled: [GAP, { ...GAP, segments: ['3.1', '3.2'], because: null }] })).toBe(
      [
        'Schedule of supplies',
        '  Place  State        Quantity  Rating  Kind   Order number  Lines',
        '  B1     to order            3  640 mA  plain  PS-640        1.1 and 1.2',
        '  B1     to take out         1       ?  plain  PS-640        1.1 and 1.2',
        '  - To order: 3 supplies, rail units 18, price 270.3',
        '  - Stay: 3 supplies, width not known',
        '  - To take out: 1 supply, width not known',
        '  Not scheduled: Line 2.1, as nothing in stock carries it.',
        '  Not scheduled: Lines 3.1 and 3.2.',
      ].join('\n'),
    );
  });

  it('says nothing where nothing is to be done, but does where only something is lacking', () => {
    expect(scheduleText({ schedule: [EXISTING], notScheduled: [] })).toBe('');
    expect(scheduleMarkdown({ schedule: [EXISTING], notScheduled: [] })).toBe('');
    expect(scheduleText({ schedule: [], notScheduled: [GAP] })).toContain('Not scheduled: Line 2.1');
    expect(scheduleMarkdown({ schedule: [], notScheduled: [GAP] })).toContain('Not scheduled: Line 2.1');
  });

  it('tells of 20 rows and 20 gaps, and how many there are', () => {
    const told = (n: number) => {
      const schedule = Array.from({ length: n }, () => ROW);
      const notScheduled = Array.from({ length: n }, () => GAP);
      const text = scheduleText({ schedule, notScheduled });
      return [text.match(/^ {2}B1/gm)?.length, text.match(/ Not/g)?.length, text.match(/20 shown of 21/g)?.length];
    };
    expect([told(20), told(21)]).toEqual([
      [20, 20, undefined],
      [20, 20, 2],
    ]);
  });

  it('is part of the report', async () => {
    const report = await reportOf('school');
    expect(formatText(report)).toContain(`\n\n${scheduleText(report)}\n\n`);
    expect(formatMarkdown(report, { archive: 'plan' })).toContain(`\n\n${scheduleMarkdown(report)}\n\n`);
  });
});

describe('the schedule in Markdown', () => {
  it('is a table that a parser reads, totals, and what is lacking, folded away', () => {
    const root = parse(scheduleMarkdown({ schedule: [ROW, EXISTING], notScheduled: [GAP] }));
    expect(all(root, 'tableRow').map((row) => ('children' in row ? row.children.map(textOf) : []))).toEqual([
      ['Place', 'State', 'Quantity', 'Rating', 'Kind', 'Order number', 'Lines'],
      ['B1', 'to order', '3', '640 mA', 'plain', 'PS-640', '1.1 and 1.2'],
    ]);
    expect(all(root, 'listItem').map(textOf)).toEqual([
      'To order: 3 supplies, rail units 18, price 270.3',
      'Stay: 3 supplies, width not known',
      'Not scheduled: Line 2.1, as nothing in stock carries it.',
    ]);
    expect(all(root, 'html').map(textOf)).toEqual(['<details><summary>Schedule of supplies</summary>', '</details>']);
  });

  it.each(HOSTILE_NAMES)('keeps a hostile name text: %j', (name) => {
    const schedule = [{ ...ROW, place: name, orderNumber: name, segments: [name] }];
    const notScheduled = [{ ...GAP, segments: [name], because: name }];
    const root = parse(scheduleMarkdown({ schedule, notScheduled }));
    for (const type of ['link', 'image', 'code', 'strong', 'emphasis', 'delete', 'heading'] as const)
      expect(all(root, type)).toEqual([]);
    expect(all(root, 'html')).toHaveLength(2);
    const [, row, ...more] = all(root, 'tableRow').map((one) => ('children' in one ? one.children.map(textOf) : []));
    const shown = printable(name)
      .replace(/\u200B/g, '')
      .trim();
    expect([row?.[0], row?.[5], row?.[6], more]).toEqual([shown, shown, shown, []]);
  });

  it('cuts what is long, and says so', () => {
    const schedule = Array.from({ length: 500 }, () => ROW);
    const notScheduled = Array.from({ length: 500 }, () => ({ ...GAP, because: 'x'.repeat(2000) }));
    const markdown = scheduleMarkdown({ schedule, notScheduled });
    expect(markdown.length).toBeLessThan(7_000);
    const rows = all(parse(markdown), 'tableRow').length - 1;
    expect(markdown).toContain(`${rows} shown of 500; the JSON report has all of them.`);
    expect(markdown).toContain('1 shown of 500; the JSON report has all of them.');
    expect(markdown).toContain(clipped(`Line 2.1, as ${'x'.repeat(2000)}`, 1000));
  });
});
