import type { ReportSegment } from '../../report.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets, numberColumn, type TableColumn, table } from './table.js';
import { verdictColumn } from './verdict-column.js';

/** What the figures rest on that nobody has said. */
export function assumptions(page: Page): Markup {
  const { summary, policy, segments } = page.report;
  const texts = page.texts.assumptions;
  const resting = segments.filter(({ load }) => load.assumedItems > 0);
  const noted = notesOf(page);
  return html`<p>${texts.currents({ ...summary.currents, eachMa: policy.values.assumedCurrentMa })}${
    summary.devicesUnplaced > 0 && ` ${texts.unplaced(summary.devicesUnplaced)}`
  }</p>
${resting.length > 0 && table({ caption: texts.caption, columns: columnsOf(page), rows: resting })}${
  noted.length > 0 &&
  html`<h3>${texts.notes}</h3>
${bullets(noted)}`
}`;
}

function columnsOf(page: Page): readonly TableColumn<ReportSegment>[] {
  const { texts, figures, words } = page;
  const verdicts = words.names.verdicts;
  return [
    { heading: texts.columns.segment, cell: ({ id }) => page.link(id) },
    numberColumn(figures, [texts.assumptions.items, ''], ({ load }) => load.assumedItems),
    numberColumn(figures, [texts.columns.assumed, 'mA'], ({ load }) => load.assumedMa),
    numberColumn(figures, [texts.columns.load, 'mA'], ({ load }) => load.totalMa),
    verdictColumn(page),
    {
      heading: texts.assumptions.low,
      cell: ({ sensitivity: of }) => of && `${figures.ma(of.lowMa)} (${verdicts[of.atLow]})`,
    },
    {
      heading: texts.assumptions.high,
      cell: ({ sensitivity: of }) => of && `${figures.ma(of.highMa)} (${verdicts[of.atHigh]})`,
    },
    { heading: texts.assumptions.turns, cell: ({ breakEven }) => texts.segments.breakEvenText(breakEven) },
  ];
}

function notesOf(page: Page): Content[] {
  const ofInstallations = page.report.projects.flatMap(({ installations }) =>
    installations.flatMap(({ notes }) => notes),
  );
  const ofSegments = page.report.segments.flatMap(({ id, notes }) =>
    notes.map((note) => html`${page.link(id)}: ${note}`),
  );
  return [...ofInstallations, ...ofSegments];
}
