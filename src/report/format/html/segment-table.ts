import type { ReportSegment } from '../../report.js';
import { html, type Markup } from './markup.js';
import { fullName, type Page } from './model.js';
import { numberColumn, type TableColumn, table } from './table.js';
import { verdictColumn } from './verdict-column.js';

/** What the strips draw, in figures. */
export function segmentTable(page: Page): Markup {
  const { texts } = page;
  return table<ReportSegment>({
    caption: texts.plant.table,
    columns: [
      { heading: texts.columns.segment, cell: ({ id }) => page.link(id) },
      { heading: texts.columns.name, cell: fullName },
      ...figureColumns(page),
      verdictColumn(page),
    ],
    rows: page.report.segments,
    isHeaded: true,
    rowAttributes: (segment) => page.filterable([segment]),
  });
}

/** What a segment does not have is left blank. */
function figureColumns(page: Page): TableColumn<ReportSegment>[] {
  const { columns } = page.texts;
  const { figures } = page;
  const ma = (heading: string, value: (segment: ReportSegment) => number | null) =>
    numberColumn(figures, [heading, 'mA'], value);
  return [
    ma(columns.declared, ({ load }) => load.declaredMa),
    ma(columns.overridden, ({ load }) => load.overriddenMa),
    ma(columns.assumed, ({ load }) => load.assumedMa),
    ma(columns.auxiliary, ({ load }) => load.auxiliaryMa),
    ma(columns.load, ({ load }) => load.totalMa),
    ma(columns.planned, ({ load }) => load.plannedMa),
    ma(columns.capacity, ({ supply }) => supply.capacityMa),
    {
      ...ma(columns.headroom, ({ headroomMa }) => headroomMa),
      cell: (segment) =>
        segment.headroomMa !== null && html`${figures.signed(segment.headroomMa)}${page.withOthers(segment)}`,
    },
    numberColumn(figures, [columns.room, ''], ({ roomForDevices }) => roomForDevices),
  ];
}
