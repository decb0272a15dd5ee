import { scaleBand, scaleLinear } from 'd3-scale';
import type { ReportSegment } from '../../report.js';
import { verdictText } from '../text.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { VERDICT_HATCH } from './palette.js';
import { at, box, hatched, label, line, picture, short } from './svg.js';
import { folded, table } from './table.js';
import { en } from './texts.js';

/** So many columns have room for their names side by side. */
const PER_PICTURE = 32;
const SIZE = { width: 740, height: 276 };
const PLOT = { left: 62, right: 636, top: 20, bottom: 180 };
/** Columns are drawn no higher: one segment far beyond its rating would flatten all others. */
const HIGHEST = 1.6;
const LONGEST_NAME = 14;

/** Utilisation of all segments with the target line, in pictures of a few dozen columns. */
export function utilisationChart(page: Page): Markup {
  const { segments, policy } = page.report;
  const pictures: Markup[] = [];
  for (let from = 0; from < segments.length; from += PER_PICTURE) {
    pictures.push(columns(segments.slice(from, from + PER_PICTURE), policy.values.targetLoad, from));
  }
  return html`<p>${en.chart.intro}</p>
${pictures}${folded(en.chart.table, figures(page))}`;
}

function columns(segments: readonly ReportSegment[], target: number, from: number): Markup {
  const x = scaleBand(
    segments.map((_, index) => index),
    [PLOT.left, PLOT.right],
  ).padding(0.25);
  const y = scaleLinear([0, HIGHEST], [PLOT.bottom, PLOT.top]);
  const grid = y
    .ticks(4)
    .map(
      (tick) =>
        html`${line(PLOT.left, y(tick), PLOT.right, y(tick), 'grid')}${label(PLOT.left - 6, y(tick) + 4, en.percent(tick), 'end')}`,
    );
  const bars = segments.map((segment, index) => column(segment, x(index) ?? 0, Math.min(x.bandwidth(), 40), y));
  return picture(
    {
      id: `utilisation-${from}`,
      title: en.chart.title(segments[0]?.label ?? '', segments.at(-1)?.label ?? ''),
      description: en.chart.description(en.percent(target)),
      ...SIZE,
    },
    html`${grid}${bars}${mark(y(1), en.chart.rating, 'stop')}${mark(y(target), `${en.chart.target} ${en.percent(target)}`, 'target')}`,
  );
}

function mark(y: number, text: string, kind: string): Markup {
  return html`${line(PLOT.left, y, PLOT.right, y, kind)}${label(PLOT.right + 4, y + 4, text)}`;
}

function column(segment: ReportSegment, x: number, width: number, y: (share: number) => number): Markup {
  const { utilisation, verdict } = segment;
  const middle = x + width / 2;
  const foot = PLOT.bottom + 12;
  const name = html`<text class="label" x="${at(middle)}" y="${foot}" text-anchor="end" transform="rotate(-55 ${at(middle)} ${foot})">${short(segment.label, LONGEST_NAME)}</text>`;
  if (utilisation === null) {
    const sign = en.chart.noFigure[verdict] ?? en.chart.needsNone;
    return html`${label(middle, PLOT.bottom - 4, sign, 'middle', 'label sign')}${name}`;
  }
  const top = y(Math.min(utilisation, HIGHEST));
  const area = { x, y: top, width, height: PLOT.bottom - top };
  const beyond = utilisation > HIGHEST && label(middle, PLOT.top - 4, `${en.percent(utilisation)} ↑`, 'middle');
  return html`${box(area, `v-${verdict}`)}${hatched(area, VERDICT_HATCH[verdict])}${beyond}${name}`;
}

function figures(page: Page): Markup {
  return table<ReportSegment>({
    caption: en.chart.heading,
    columns: [
      { heading: en.columns.segment, cell: ({ id }) => page.link(id) },
      { heading: en.columns.load, cell: ({ load }) => en.ma(load.totalMa), value: ({ load }) => load.totalMa },
      {
        heading: en.columns.target,
        cell: ({ supply }) => en.maOrNothing(supply.targetMa),
        value: ({ supply }) => supply.targetMa,
      },
      {
        heading: en.columns.share,
        cell: ({ utilisation }) => utilisation !== null && en.percent(utilisation),
        value: ({ utilisation }) => utilisation,
      },
      { heading: en.columns.verdict, cell: verdictText },
    ],
    rows: page.report.segments,
  });
}
