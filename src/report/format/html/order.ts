import { VERDICTS } from '../../../electrical/verdict.js';
import type { ReportSegment } from '../../report.js';

/** The worse first: by verdict, then by the share of what the supplies may give. */
export function byVerdict(a: ReportSegment, b: ReportSegment): number {
  const rank = ({ verdict }: ReportSegment) => VERDICTS.indexOf(verdict);
  return rank(a) - rank(b) || (b.utilisation ?? 0) - (a.utilisation ?? 0);
}

/** Items of the same key together, in the order in which each key comes first. */
export function groupedBy<T>(items: readonly T[], keyOf: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}
