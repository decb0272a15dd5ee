import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import type { Report } from '../report.js';
import type { ScheduleRow } from '../schedule-shape.js';
import { type ScheduleTotal, totalsOf } from '../schedule-total.js';
import { bullet, table } from './layout.js';

/** So many rows, and so many gaps, are told of; the JSON report and the schedule's own formats have all. */
const MOST_TOLD = 20;

/** The supplies to order and to take out, by place, with totals, and the segments that they do not cover. */
export function scheduleText(
  { schedule, notScheduled }: Pick<Report, 'schedule' | 'notScheduled'>,
  words: Words = EN,
): string {
  const texts = words.schedule;
  const changes = changesOf(schedule);
  if (changes.length === 0 && notScheduled.length === 0) return '';
  const rows = changes.slice(0, MOST_TOLD).map((row) => ['', ...scheduleCells(row, words)]);
  const lines = [
    texts.title,
    ...(rows.length === 0 ? [] : [table([['', ...scheduleHeadings(words)], ...rows], ALIGNMENTS)]),
    ...cut(changes.length, words),
    ...totalsOf(schedule).map((total) => bullet('  -', totalText(total, words))),
    ...notScheduled.slice(0, MOST_TOLD).map((one) => bullet(`  ${texts.notScheduled}`, texts.gap(one))),
    ...cut(notScheduled.length, words),
  ];
  return lines.join('\n');
}

const ALIGNMENTS = ['left', 'left', 'left', 'right', 'right', 'left', 'left', 'left'] as const;

/** What stays as it is needs no table. */
export function changesOf(schedule: Report['schedule']): ScheduleRow[] {
  return schedule.filter(({ state }) => state !== 'existing');
}

/** What the columns of {@link scheduleCells} are called. */
export function scheduleHeadings({ schedule }: Words): string[] {
  const { place, state, quantity, rating, kind, orderNumber, lines } = schedule.columns;
  return [place, state, quantity, rating, kind, orderNumber, lines];
}

/** Cells for {@link scheduleHeadings}. */
export function scheduleCells(row: ScheduleRow, { names, figures }: Words): string[] {
  const { state, item, quantity, ratedMa, kind, orderNumber, segments } = row;
  const notRated = item === 'supply' ? '?' : '';
  return [
    names.place(row.place),
    names.scheduleStates[state],
    String(quantity),
    ratedMa === null ? notRated : figures.milliamps(ratedMa),
    kind === null ? names.scheduleItems[item] : names.supplyKinds[kind],
    orderNumber ?? '',
    figures.list(segments.map(names.segment)),
  ];
}

/** `To order: 3 supplies, rail units 24, price 631.65`. */
export function totalText({ what, item, quantity, railUnits, sum }: ScheduleTotal, { schedule }: Words): string {
  const { becomes, counted, partlyKnown, noWidth } = schedule;
  const width = railUnits.known === null ? noWidth : schedule.railUnits(partlyKnown(railUnits));
  const price = sum === null ? '' : `, ${schedule.price(partlyKnown(sum))}`;
  return `${becomes[what]}: ${counted[item](quantity)}, ${width}${price}`;
}

function cut(total: number, { schedule }: Words): string[] {
  return total <= MOST_TOLD ? [] : [`  ${schedule.cut({ shown: MOST_TOLD, total })}`];
}
