import type { NotScheduled, ScheduleRow } from '../../schedule-shape.js';
import { type PartlyKnown, type ScheduleTotal, totalsOf } from '../../schedule-total.js';
import { html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { numberColumn, type TableColumn, table } from './table.js';

/** The supplies to order, to keep and to take out, with totals and what the schedule lacks. */
export function schedule(page: Page): Markup {
  const { report, texts } = page;
  if (report.schedule.length === 0)
    return html`<p>${texts.schedule.none}</p>
${lacking(report.notScheduled, page)}`;
  const rows = table({ caption: texts.schedule.caption, columns: columnsOf(page), rows: report.schedule });
  return html`${rows}${totals(page)}${lacking(report.notScheduled, page)}`;
}

/** Widths and prices only where any is known. */
function columnsOf({ report, texts, words, figures }: Page): TableColumn<ScheduleRow>[] {
  const { columns, frame, schedule: say } = texts;
  const { names } = words;
  const known = (column: TableColumn<ScheduleRow>) => report.schedule.some((row) => column.value?.(row) !== null);
  return [
    { heading: columns.place, cell: ({ place }) => names.place(place) },
    { heading: say.state, cell: ({ state }) => names.scheduleStates[state] },
    { heading: say.item, cell: ({ item }) => names.scheduleItems[item] },
    numberColumn(figures, [say.quantity, ''], ({ quantity }) => quantity),
    {
      heading: columns.rating,
      cell: ({ ratedMa, item }) => figures.orNothing(ratedMa, 'mA') || (item === 'supply' && frame.notKnown),
      value: ({ ratedMa }) => ratedMa,
    },
    { heading: columns.kind, cell: ({ kind }) => kind && names.supplyKinds[kind] },
    { heading: columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
    ...[
      numberColumn<ScheduleRow>(figures, [say.railUnits, ''], ({ railUnits }) => railUnits),
      numberColumn<ScheduleRow>(figures, [say.price, ''], ({ price }) => price, figures.price),
      numberColumn<ScheduleRow>(figures, [say.sum, ''], ({ sum }) => sum, figures.price),
    ].filter(known),
    { heading: say.lines, cell: ({ segments }) => segments.map((label) => names.segment(label)).join(', ') },
  ];
}

/** What is only known in part says so, and nobody takes it for the whole. */
function totals({ report, texts, words, figures }: Page): Markup {
  const { schedule: say, names, frame } = texts;
  const told = ({ known, unknown }: PartlyKnown, write: (value: number) => string) => {
    if (known === null) return frame.notKnown;
    return unknown === 0 ? write(known) : say.partly({ known: write(known), unknown });
  };
  return html`<h3>${say.totals}</h3>
${table<ScheduleTotal>({
  caption: say.totals,
  columns: [
    { heading: say.state, cell: ({ what }) => words.schedule.becomes[what] },
    { heading: say.item, cell: ({ item }) => names.supplies[item] },
    numberColumn(figures, [say.quantity, ''], ({ quantity }) => quantity),
    {
      heading: say.railUnits,
      cell: ({ railUnits }) => told(railUnits, figures.number),
      value: ({ railUnits }) => railUnits.known,
    },
    { heading: say.sum, cell: ({ sum }) => sum && told(sum, figures.price), value: ({ sum }) => sum?.known ?? null },
  ],
  rows: totalsOf(report.schedule),
  isHeaded: true,
})}`;
}

function lacking(notScheduled: readonly NotScheduled[], page: Page): Markup {
  const { schedule: say } = page.texts;
  if (notScheduled.length === 0) return NOTHING;
  const names = (labels: readonly string[]) => labels.map((label) => page.words.names.segment(label)).join(', ');
  return html`<h3>${say.lacking}</h3>
${table<NotScheduled>({
  caption: say.lackingCaption,
  columns: [
    { heading: say.lines, cell: ({ segments }) => names(segments) },
    { heading: say.because, cell: ({ because }) => because },
  ],
  rows: notScheduled,
  isHeaded: true,
})}`;
}
