import { count } from '../../rules/words.js';
import { EN } from '../../words/en/words.js';
import type { Report } from '../report.js';
import type { ScheduleRow } from '../schedule-shape.js';
import { type PartlyKnown, type ScheduleTotal, totalsOf } from '../schedule-total.js';
import type { FormatContext } from './context.js';
import { listed } from './csv.js';
import { type XlsxCell, type XlsxColumn, type XlsxRow, xlsxWorkbook } from './xlsx.js';
import { BASIS_COLUMNS, basisRows } from './xlsx-schedule-basis.js';

/** The schedule of supplies as a workbook: the supplies with their totals, and on a second sheet what they rest on. */
export function formatXlsxSchedule(report: Report, context: FormatContext): Promise<Uint8Array> {
  const names = new Map(report.projects.map(({ id, name }) => [id, name ?? id]));
  return xlsxWorkbook([
    {
      name: 'Supplies',
      columns: COLUMNS,
      rows: [
        ...report.schedule.map((row) => ({ cells: cellsOf(row, names) })),
        ...totalsOf(report.schedule).map(totalRow),
        ...lackingRows(report),
      ],
    },
    { name: 'Basis', columns: BASIS_COLUMNS, rows: basisRows(report, context) },
  ]);
}

const MONEY = '#,##0.00';

const COLUMNS: readonly XlsxColumn[] = [
  { heading: 'Project', width: 20 },
  { heading: 'Installation', width: 11, numbers: '0' },
  { heading: 'Board or place', width: 28 },
  { heading: 'State', width: 13 },
  { heading: 'Item', width: 10 },
  { heading: 'Rating, mA', width: 11 },
  { heading: 'Kind', width: 11 },
  { heading: 'Order number', width: 18 },
  { heading: 'Quantity', width: 10, numbers: '0' },
  { heading: 'Rail units of 18 mm', width: 18 },
  { heading: 'Price of one', width: 13, numbers: MONEY },
  { heading: 'Price of all', width: 16, numbers: MONEY },
  { heading: 'Lines', width: 40 },
];

function cellsOf(row: ScheduleRow, names: ReadonlyMap<string, string>): XlsxCell[] {
  const { project, installation, place, state, item, kind, quantity, railUnits, price, segments } = row;
  return [
    ...[names.get(project) ?? project, installation, place, state, item, row.ratedMa, kind, row.orderNumber],
    ...[quantity, railUnits, price, row.sum, listed(segments)],
  ];
}

function totalRow({ what, item, quantity, railUnits, sum }: ScheduleTotal): XlsxRow {
  const figures = [quantity, figure(railUnits), null, sum && figure(sum), null];
  const cells = [what, null, null, null, item, null, null, null, ...figures];
  return { cells, isBold: true };
}

/** A number only where all of it is known. */
function figure(total: PartlyKnown): XlsxCell {
  return total.unknown === 0 ? total.known : EN.schedule.partlyKnown(total);
}

/** Whoever looks at the first sheet alone has to see that it is not all. */
function lackingRows({ notScheduled, summary }: Report): XlsxRow[] {
  const segments = notScheduled.flatMap((one) => one.segments).length;
  const lacking = segments === 0 ? [] : [`Not whole: ${count(segments, 'segment')} not scheduled, see Basis`];
  const failed = summary.complete ? [] : ['Not whole: a rule failed by a fault of this tool'];
  return [...lacking, ...failed].map((text) => ({ cells: [text], isBold: true }));
}
