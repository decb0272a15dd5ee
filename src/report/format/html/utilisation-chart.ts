import { scaleBand, scaleLinear } from 'd3-scale';
import type { ReportSegment } from '../../report.js';
import { drawn, readable } from './labels.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { VERDICT_HATCH } from './palette.js';
import { at, filled, label, line, picture, short } from './svg.js';
import { folded, numberColumn, table } from './table.js';
import { verdictColumn } from './verdict-column.js';

/** So many columns have room for their names side by side. */
const PER_PICTURE = 32;
const SIZE = { width: 740, height: 290 };
const PLOT = { left: 62, right: 636, top: 34, bottom: 194 };
/** Over a column that goes on above the picture: an arrow, and over it the figure where there is room for it. */
const ARROW = PLOT.top - 4;
const FIGURE = ARROW - 14;
/** Columns are drawn no higher: one segment far beyond its rating would flatten all others. */
const HIGHEST = 1.6;
const WIDEST = 40;
const LONGEST_NAME = 14;
/** What stands for a column where there is no figure; all others need no supply. */
const NO_FIGURE: Readonly<Partial<Record<ReportSegment['verdict'], string>>> = { unfed: '×', undecidable: '?' };
const NEEDS_NONE = '–';

/** Utilisation of all segments with the target line, in pictures of a few dozen columns. */
export function utilisationChart(page: Page): Markup {
  const { segments } = page.report;
  const { chart } = page.texts;
  const pictures: Markup[] = [];
  for (let from = 0; from < segments.length; from += PER_PICTURE) {
    pictures.push(columns(segments.slice(from, from + PER_PICTURE), from, page));
  }
  return html`<p>${chart.intro}</p>
${pictures}${folded(chart.table, utilisationTable(page))}`;
}

function columns(segments: readonly ReportSegment[], from: number, page: Page): Markup {
  const { chart } = page.texts;
  const target = page.report.policy.values.targetLoad;
  const share = page.figures.percent(target);
  const x = scaleBand(
    segments.map((_, index) => index),
    [PLOT.left, PLOT.right],
  ).padding(0.25);
  const y = scaleLinear([0, HIGHEST], [PLOT.bottom, PLOT.top]);
  const grid = y
    .ticks(4)
    .map(
      (tick) =>
        html`${line(PLOT.left, y(tick), PLOT.right, y(tick), 'grid')}${label(PLOT.left - 6, y(tick) + 4, page.figures.withUnit(Math.round(tick * 100), '%'), 'end')}`,
    );
  const bands = segments.map((_, index) => ({ x: x(index) ?? 0, width: x.bandwidth() }));
  const bars = segments.map((segment, index) => column(segment, bands[index] as Band, y, page));
  return picture(
    {
      id: `utilisation-${from}`,
      title: chart.title({ first: page.labelOf(segments[0]?.id ?? ''), last: page.labelOf(segments.at(-1)?.id ?? '') }),
      description: chart.description(share),
      ...SIZE,
    },
    html`${grid}${bars}${beyond(segments, bands, page)}${mark(y(1), chart.rating, 'stop')}${mark(y(target), chart.target(share), 'target')}`,
  );
}

function mark(y: number, text: string, kind: string): Markup {
  return html`${line(PLOT.left, y, PLOT.right, y, kind)}${label(PLOT.right + 4, y + 4, text)}`;
}

interface Band {
  readonly x: number;
  readonly width: number;
}

function column(segment: ReportSegment, band: Band, y: (share: number) => number, page: Page): Markup {
  const { utilisation, verdict } = segment;
  const middle = band.x + band.width / 2;
  const width = Math.min(band.width, WIDEST);
  const foot = PLOT.bottom + 12;
  const name = html`<text class="label" x="${at(middle)}" y="${foot}" text-anchor="end" transform="rotate(-55 ${at(middle)} ${foot})">${short(page.labelOf(segment.id), LONGEST_NAME)}</text>`;
  if (utilisation === null) {
    const sign = NO_FIGURE[verdict] ?? NEEDS_NONE;
    return html`${label(middle, PLOT.bottom - 4, sign, 'middle', 'label sign')}${name}`;
  }
  const top = y(Math.min(utilisation, HIGHEST));
  const area = { x: middle - width / 2, y: top, width, height: PLOT.bottom - top };
  const arrow = utilisation > HIGHEST && label(middle, ARROW, '↑', 'middle');
  return html`${filled(area, `v-${verdict}`, VERDICT_HATCH[verdict])}${arrow}${name}`;
}

/** The figures of columns that go on above the picture, of neighbours the greatest; the table behind has them all. */
function beyond(segments: readonly ReportSegment[], bands: readonly Band[], { figures }: Page): Markup {
  const figuresThere = segments.flatMap(({ utilisation }, index) => {
    if (utilisation === null || utilisation <= HIGHEST) return [];
    const { x, width } = bands[index] as Band;
    return [
      { utilisation, x: x + width / 2, y: FIGURE, text: figures.percent(utilisation), anchor: 'middle' as const },
    ];
  });
  figuresThere.sort((a, b) => b.utilisation - a.utilisation || a.x - b.x);
  return html`${readable(figuresThere).map(drawn)}`;
}

function utilisationTable(page: Page): Markup {
  const { texts, figures } = page;
  const { columns: heading } = texts;
  return table<ReportSegment>({
    caption: texts.chart.heading,
    columns: [
      { heading: heading.segment, cell: ({ id }) => page.link(id) },
      numberColumn(figures, [heading.load, 'mA'], ({ load }) => load.totalMa),
      numberColumn(figures, [heading.target, 'mA'], ({ supply }) => supply.targetMa),
      {
        heading: heading.share,
        cell: (segment) =>
          segment.utilisation !== null && html`${figures.percent(segment.utilisation)}${page.withOthers(segment)}`,
        value: ({ utilisation }) => utilisation,
      },
      verdictColumn(page),
    ],
    rows: page.report.segments,
    isHeaded: true,
  });
}
