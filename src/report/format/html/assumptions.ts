import type { ReportSegment } from '../../report.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { bullets, type TableColumn, table } from './table.js';
import { en } from './texts.js';

/** What the figures rest on that nobody has said. */
export function assumptions(page: Page): Markup {
  const { summary, policy, segments } = page.report;
  const { declared, overridden, assumed } = summary.currents;
  const resting = segments.filter(({ load }) => load.assumedItems > 0);
  const link: TableColumn<ReportSegment> = { heading: en.columns.segment, cell: ({ id }) => page.link(id) };
  const noted = notesOf(page);
  return html`<p>${en.assumptions.currents(declared, overridden, assumed, policy.values.assumedCurrentMa)}${
    summary.devicesUnplaced > 0 && ` ${en.assumptions.unplaced(summary.devicesUnplaced)}`
  }</p>
${resting.length > 0 && table({ caption: en.assumptions.caption, columns: [link, ...COLUMNS], rows: resting })}${
  noted.length > 0 &&
  html`<h3>${en.assumptions.notes}</h3>
${bullets(noted)}`
}`;
}

const COLUMNS: readonly TableColumn<ReportSegment>[] = [
  { heading: en.assumptions.items, cell: ({ load }) => load.assumedItems, value: ({ load }) => load.assumedItems },
  { heading: en.columns.assumed, cell: ({ load }) => en.ma(load.assumedMa), value: ({ load }) => load.assumedMa },
  { heading: en.columns.load, cell: ({ load }) => en.ma(load.totalMa), value: ({ load }) => load.totalMa },
  { heading: en.columns.verdict, cell: ({ verdict }) => verdict },
  {
    heading: en.assumptions.low,
    cell: ({ sensitivity }) => sensitivity && `${en.ma(sensitivity.lowMa)} (${sensitivity.atLow})`,
    value: ({ sensitivity }) => sensitivity?.lowMa ?? null,
  },
  {
    heading: en.assumptions.high,
    cell: ({ sensitivity }) => sensitivity && `${en.ma(sensitivity.highMa)} (${sensitivity.atHigh})`,
    value: ({ sensitivity }) => sensitivity?.highMa ?? null,
  },
  {
    heading: en.assumptions.turns,
    cell: ({ breakEven }) => en.segments.breakEvenText(breakEven.toTightMa, breakEven.toInsufficientMa),
  },
];

function notesOf(page: Page): Content[] {
  const ofInstallations = page.report.projects.flatMap(({ installations }) =>
    installations.flatMap(({ notes }) => notes),
  );
  const ofSegments = page.report.segments.flatMap(({ id, notes }) =>
    notes.map((note) => html`${page.link(id)}: ${note}`),
  );
  return [...ofInstallations, ...ofSegments];
}
