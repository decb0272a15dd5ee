import type { ReportNewMainLine } from '../../proposal-shape.js';
import { choiceColumns } from './choice-table.js';
import { html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { numberColumn, table } from './table.js';

/** Lines above that splits need and that are not there yet. */
export function mainLines(lines: readonly ReportNewMainLine[], page: Page): Markup {
  const { proposals, columns, plant } = page.texts;
  if (lines.length === 0) return NOTHING;
  const figures = page.figures;
  return html`<h3>${proposals.mainLines}</h3>
${table<ReportNewMainLine>({
  caption: proposals.mainLines,
  columns: [
    { heading: columns.segment, cell: ({ line }) => plant.line({ line, name: '' }) },
    numberColumn(figures, [proposals.couplersColumn, ''], ({ couplers }) => couplers),
    numberColumn(figures, [columns.load, 'mA'], ({ loadMa }) => loadMa),
    numberColumn(figures, [columns.planned, 'mA'], ({ plannedMa }) => plannedMa),
    ...choiceColumns(lines, ({ choice }: ReportNewMainLine) => choice, page),
  ],
  rows: lines,
  isHeaded: true,
})}`;
}
