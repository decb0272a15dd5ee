import type { Words } from '../../words/words.js';
import type { ReportSegment } from '../report.js';

/** What the tables of segments for people have in common. */

/** The verdict, and of an open one the reason. */
export function verdictText({ verdict, boundariesKnown, supply }: ReportSegment, { names, report }: Words): string {
  const { openBounds, openFeed, openRating, notTogether } = report.segments;
  if (verdict !== 'undecidable') return names.verdicts[verdict];
  if (!boundariesKnown) return openBounds;
  if (supply.units.length === 0) return openFeed;
  return supply.unrated > 0 ? openRating : notTogether;
}

/** The ratings of a segment’s supplies, with a question mark for unknown ones. */
export function ratingText({ units, ratedMa, unrated }: ReportSegment['supply'], { figures }: Words): string {
  if (units.length === 0) return '–';
  const known = units.length === unrated ? [] : [figures.milliamps(ratedMa)];
  return [...known, ...(unrated > 0 ? ['?'] : [])].join(' + ');
}

/** What is left to the target, with its sign; empty where there is no target. */
export function headroomText({ headroomMa }: ReportSegment, { figures }: Words): string {
  return headroomMa === null ? '' : `${headroomMa > 0 ? '+' : ''}${figures.milliamps(headroomMa)}`;
}

/** Load over capacity; empty where nothing can be said of it. */
export function shareText({ utilisation }: ReportSegment, { figures }: Words): string {
  return utilisation === null ? '' : figures.percent(utilisation);
}

/** The name of a segment or else of its line, cut to what a column takes. */
export function nameOf({ name, lineName }: ReportSegment): string {
  const longest = 28;
  const text = name ?? lineName ?? '';
  return text.length > longest ? `${text.slice(0, longest - 1)}…` : text;
}
