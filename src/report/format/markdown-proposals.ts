import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import type { Report } from '../report.js';
import { within } from './markdown-list.js';
import { proposalsText } from './text-proposals.js';

const MOST = 8_000;

/** What to do about supplies, as the text report has it, folded away and cut where it is long. */
export function proposalsMarkdown(report: Pick<Report, 'segments' | 'newMainLines'>, words: Words = EN): string {
  const { heading, cut } = words.proposals;
  const lines = proposalsText(report, words).split('\n');
  if (lines.join('') === '') return '';
  const shown = within(lines, MOST);
  const rest = shown.length < lines.length ? ['', cut] : [];
  return [`<details><summary>${heading}</summary>`, '', fenced(shown.join('\n')), ...rest, '', '</details>'].join('\n');
}

/** A block in which nothing is marked up: no run of backticks in it is as long as the fence (CommonMark 0.31, §4.5). */
function fenced(text: string): string {
  const longest = Math.max(2, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = '`'.repeat(longest + 1);
  return `${fence}text\n${text}\n${fence}`;
}
