import type { ScheduleRow } from '../../schedule-shape.js';
import { totalsOf } from '../../schedule-total.js';
import { notScheduledText, totalText } from '../text-schedule.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets, type TableColumn, table } from './table.js';
import { en } from './texts.js';

/** The supplies to order, to keep and to take out, with totals and what the schedule lacks. */
export function schedule({ report }: Page): Markup {
  const { schedule: rows, notScheduled } = report;
  const lacking =
    notScheduled.length > 0 &&
    html`<h3>${en.schedule.lacking}</h3>
${bullets(notScheduled.map(notScheduledText))}`;
  if (rows.length === 0)
    return html`<p>${en.schedule.none}</p>
${lacking}`;
  return html`${table({ caption: en.schedule.caption, columns: COLUMNS, rows })}<h3>${en.schedule.totals}</h3>
${bullets(totalsOf(rows).map(totalText))}${lacking}`;
}

const COLUMNS: readonly TableColumn<ScheduleRow>[] = [
  { heading: en.columns.place, cell: ({ place }) => place },
  { heading: en.schedule.state, cell: ({ state }) => state },
  { heading: en.schedule.quantity, cell: ({ quantity }) => quantity, value: ({ quantity }) => quantity },
  { heading: en.columns.rating, cell: ratingOf, value: ({ ratedMa }) => ratedMa },
  { heading: en.columns.kind, cell: ({ kind, item }) => kind ?? item },
  { heading: en.columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
  { heading: en.schedule.railUnits, cell: ({ railUnits }) => railUnits, value: ({ railUnits }) => railUnits },
  { heading: en.schedule.price, cell: ({ price }) => price, value: ({ price }) => price },
  { heading: en.schedule.sum, cell: ({ sum }) => sum, value: ({ sum }) => sum },
  { heading: en.schedule.lines, cell: ({ segments }) => segments.join(', ') },
];

function ratingOf({ ratedMa, item }: ScheduleRow): string {
  if (ratedMa !== null) return en.ma(ratedMa);
  return item === 'supply' ? en.notKnown : '';
}
