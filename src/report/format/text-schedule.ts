import { count, list, milliamps } from '../../rules/words.js';
import type { Report } from '../report.js';
import type { ScheduleRow } from '../schedule-shape.js';
import { partlyKnownText, type ScheduleTotal, totalsOf } from '../schedule-total.js';
import { bullet, table } from './layout.js';

/** So many rows, and so many gaps, are told of; the JSON report and the schedule's own formats have all. */
const MOST_TOLD = 20;

export const SCHEDULE_HEADINGS = ['Place', 'State', 'Quantity', 'Rating', 'Kind', 'Order number', 'Lines'] as const;

/** The supplies to order and to take out, by place, with totals, and the segments that they do not cover. */
export function scheduleText({ schedule, notScheduled }: Pick<Report, 'schedule' | 'notScheduled'>): string {
  const changes = changesOf(schedule);
  if (changes.length === 0 && notScheduled.length === 0) return '';
  const rows = changes.slice(0, MOST_TOLD).map((row) => ['', ...scheduleCells(row)]);
  const lines = [
    'Schedule of supplies',
    ...(rows.length === 0 ? [] : [table([['', ...SCHEDULE_HEADINGS], ...rows], ALIGNMENTS)]),
    ...cut(changes.length),
    ...totalsOf(schedule).map((total) => bullet('  -', totalText(total))),
    ...notScheduled.slice(0, MOST_TOLD).map((one) => bullet('  Not scheduled:', notScheduledText(one))),
    ...cut(notScheduled.length),
  ];
  return lines.join('\n');
}

const ALIGNMENTS = ['left', 'left', 'left', 'right', 'right', 'left', 'left', 'left'] as const;

/** What stays as it is needs no table. */
export function changesOf(schedule: Report['schedule']): ScheduleRow[] {
  return schedule.filter(({ state }) => state !== 'existing');
}

/** Cells for {@link SCHEDULE_HEADINGS}. */
export function scheduleCells({
  place,
  state,
  item,
  quantity,
  ratedMa,
  kind,
  orderNumber,
  segments,
}: ScheduleRow): string[] {
  const notRated = item === 'supply' ? '?' : '';
  const rating = ratedMa === null ? notRated : milliamps(ratedMa);
  return [place, state, String(quantity), rating, kind ?? item, orderNumber ?? '', list(segments)];
}

/** `To order: 3 supplies, 24 rail units, price 631.65`. */
export function totalText({ what, item, quantity, railUnits, sum }: ScheduleTotal): string {
  const width = railUnits.known === null ? 'width not known' : `rail units ${partlyKnownText(railUnits)}`;
  const price = sum === null ? '' : `, price ${partlyKnownText(sum)}`;
  return `${what}: ${ITEM_COUNTS[item](quantity)}, ${width}${price}`;
}

const ITEM_COUNTS: { readonly [item in ScheduleRow['item']]: (quantity: number) => string } = {
  supply: (quantity) => count(quantity, 'supply', 'supplies'),
  coupler: (quantity) => count(quantity, 'coupler'),
};

/** `Line 1.6, as the supply that feeds the segment is not known.` */
export function notScheduledText({ segments, because }: Report['notScheduled'][number]): string {
  const lines = `${segments.length === 1 ? 'Line' : 'Lines'} ${list(segments)}`;
  return because === null ? `${lines}.` : `${lines}, as ${because}.`;
}

function cut(total: number): string[] {
  return total <= MOST_TOLD ? [] : [`  ${MOST_TOLD} shown of ${total}; --format csv-schedule has all`];
}
