import type { Words } from '../../words/words.js';

/** The items that fit, in their order. */
export function within(items: Iterable<string>, most: number): string[] {
  const fitting: string[] = [];
  let left = most;
  for (const item of items) {
    left -= item.length + 1;
    if (left < 0) break;
    fitting.push(item);
  }
  return fitting;
}

/** What is said of a list that is cut; nothing of a whole one. */
export function cutRemark(shown: number, total: number, { report }: Words): string {
  return shown === total ? '' : `${report.findings.cut({ shown, total })}.`;
}
