import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import type { Report } from '../report.js';
import { totalsOf } from '../schedule-total.js';
import { cutRemark, within } from './markdown-list.js';
import { clipped, markdownText } from './markdown-text.js';
import { changesOf, scheduleCells, scheduleHeadings, totalText } from './text-schedule.js';

const MOST_FOR_ROWS = 4_000;
const MOST_FOR_GAPS = 2_000;
const LONGEST_CELL = 200;
const LONGEST_TEXT = 1000;

/** The supplies to order and to take out, with totals, and the segments that they do not cover; folded away. */
export function scheduleMarkdown(
  { schedule, notScheduled }: Pick<Report, 'schedule' | 'notScheduled'>,
  words: Words = EN,
): string {
  const texts = words.schedule;
  const changes = changesOf(schedule);
  if (changes.length === 0 && notScheduled.length === 0) return '';
  const rows = within(
    changes.map((row) => rowOf(scheduleCells(row, words))),
    MOST_FOR_ROWS,
  );
  const gaps = within(
    notScheduled.map((one) => gapOf(texts.gap(one), words)),
    MOST_FOR_GAPS,
  );
  const totals = totalsOf(schedule).map((total) => `- ${totalText(total, words)}`);
  const head = `| ${scheduleHeadings(words).join(' | ')} |`;
  const blocks = [
    `<details><summary>${texts.title}</summary>`,
    rows.length === 0 ? '' : [head, ALIGNMENT, ...rows].join('\n'),
    cutRemark(rows.length, changes.length, words),
    [...totals, ...gaps].join('\n'),
    cutRemark(gaps.length, notScheduled.length, words),
    '</details>',
  ];
  return blocks.filter((block) => block !== '').join('\n\n');
}

const ALIGNMENT = '| :-- | :-- | --: | --: | :-- | :-- | :-- |';

function rowOf(cells: readonly string[]): string {
  return `| ${cells.map((cell) => markdownText(clipped(cell, LONGEST_CELL))).join(' | ')} |`;
}

function gapOf(text: string, { schedule }: Words): string {
  return `- ${schedule.notScheduled} ${markdownText(clipped(text, LONGEST_TEXT))}`;
}
