import type { ReportSegment } from '../../report.js';
import { verdictText } from '../text.js';
import type { Markup } from './markup.js';
import { filterable, fullName, type Page } from './model.js';
import { type TableColumn, table } from './table.js';
import { en } from './texts.js';

/** What the strips draw, in figures. */
export function segmentTable(page: Page): Markup {
  return table({
    caption: en.plant.table,
    columns: [
      { heading: en.columns.segment, cell: ({ id }) => page.link(id) },
      { heading: en.columns.name, cell: fullName },
      ...FIGURES,
      { heading: en.columns.verdict, cell: verdictText },
    ],
    rows: page.report.segments,
    rowAttributes: (segment) =>
      filterable(
        [segment.verdict],
        page.findingsOf(segment).map(({ severity }) => severity),
      ),
  });
}

/** A figure in mA; what a segment does not have is left blank. */
function milliampColumn(heading: string, value: (segment: ReportSegment) => number | null): TableColumn<ReportSegment> {
  return { heading, value, cell: (segment) => en.maOrNothing(value(segment)) };
}

const FIGURES: readonly TableColumn<ReportSegment>[] = [
  milliampColumn(en.columns.declared, ({ load }) => load.declaredMa),
  milliampColumn(en.columns.overridden, ({ load }) => load.overriddenMa),
  milliampColumn(en.columns.assumed, ({ load }) => load.assumedMa),
  milliampColumn(en.columns.auxiliary, ({ load }) => load.auxiliaryMa),
  milliampColumn(en.columns.load, ({ load }) => load.totalMa),
  milliampColumn(en.columns.planned, ({ load }) => load.plannedMa),
  milliampColumn(en.columns.capacity, ({ supply }) => supply.capacityMa),
  {
    heading: en.columns.headroom,
    cell: ({ headroomMa }) => headroomMa !== null && en.signedMa(headroomMa),
    value: ({ headroomMa }) => headroomMa,
  },
  {
    heading: en.columns.room,
    cell: ({ roomForDevices }) => roomForDevices,
    value: ({ roomForDevices }) => roomForDevices,
  },
];
