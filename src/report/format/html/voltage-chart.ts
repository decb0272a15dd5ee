import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { area, line as pathThrough } from 'd3-shape';
import type { ReportOnSite } from '../../site-shape.js';
import { drawn, type Label, readable, textWidth } from './labels.js';
import { html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { type Anchor, at, label, line, picture, short } from './svg.js';
import { folded, type TableColumn, table } from './table.js';

type Profile = NonNullable<ReportOnSite['voltages']>['profile'];
type Point = Profile['points'][number];
type Supply = 'typical' | 'least';

/** A point with all that a drawing needs. */
interface Placed {
  readonly name: string | null;
  readonly distanceM: number;
  readonly lowV: number;
  readonly highV: number;
}

interface Scales {
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
}

const PLOT = { width: 740, height: 260, left: 56, right: 580, top: 16, bottom: 214 };
const LONGEST_NAME = 16;
const LINE_HEIGHT = 14;

/** Voltage along the cable, between its bounds, with a table behind. */
export function voltageChart(id: string, title: string, profile: Profile, page: Page): Markup {
  if (profile.points.length === 0) return NOTHING;
  return html`<h5>${title}</h5>
${drawing(id, title, profile, page)}${folded(page.texts.site.table, voltageTable(title, profile, page))}`;
}

function drawing(id: string, title: string, profile: Profile, page: Page): Markup {
  const { site } = page.texts;
  const { leastDeviceV } = page.report.policy.values;
  const placed = (['typical', 'least'] as const).flatMap((supply) =>
    profile.points.flatMap((one) => placedAt(one, supply) ?? []),
  );
  if (placed.length === 0) return NOTHING;
  const scales = scalesFor(placed, leastDeviceV);
  const description = site.profileDescription(page.figures.volts(leastDeviceV));
  const ends = endNames(profile, scales, leastDeviceV, page);
  return picture(
    { id, title, description, width: PLOT.width, height: PLOT.height },
    html`${axes(scales, page)}${bands(profile, 'typical', scales)}${bands(profile, 'least', scales)}${line(PLOT.left, scales.y(leastDeviceV), PLOT.right, scales.y(leastDeviceV), 'target')}${[...ends, ...readable(pointNames(profile, scales), ends)].map(drawn)}`,
  );
}

function placedAt({ name, distanceM, ...bands }: Point, supply: Supply): Placed | null {
  const { lowV, highV } = bands[supply];
  return distanceM === null || lowV === null || highV === null ? null : { name, distanceM, lowV, highV };
}

function scalesFor(placed: readonly Placed[], leastDeviceV: number): Scales {
  const farthest = Math.max(1, ...placed.map(({ distanceM }) => distanceM));
  const lowest = Math.min(leastDeviceV, ...placed.map(({ lowV }) => lowV));
  const highest = Math.max(leastDeviceV, ...placed.map(({ highV }) => highV));
  return {
    x: scaleLinear([0, farthest], [PLOT.left, PLOT.right]).nice(),
    y: scaleLinear([lowest - 1, highest + 1], [PLOT.bottom, PLOT.top]).nice(),
  };
}

function axes({ x, y }: Scales, { texts, figures }: Page): Markup {
  const levels = y
    .ticks(6)
    .map(
      (tick) =>
        html`${line(PLOT.left, y(tick), PLOT.right, y(tick), 'grid')}${label(PLOT.left - 6, y(tick) + 4, figures.volts(tick), 'end')}`,
    );
  const distances = x.ticks(6).map((tick) => label(x(tick), PLOT.bottom + 16, figures.number(tick), 'middle'));
  return html`${levels}${distances}${label((PLOT.left + PLOT.right) / 2, PLOT.bottom + 36, texts.site.distance, 'middle')}`;
}

/** A band for each piece of cable between two points, and a dot for each point. */
function bands({ points, joins }: Profile, supply: Supply, { x, y }: Scales): Markup {
  const at2 = points.map((point) => placedAt(point, supply));
  const across = area<Placed>(
    ({ distanceM }) => x(distanceM),
    ({ lowV }) => y(lowV),
    ({ highV }) => y(highV),
  ).digits(1);
  const edge = (of: (point: Placed) => number) =>
    pathThrough<Placed>(
      ({ distanceM }) => x(distanceM),
      (point) => y(of(point)),
    ).digits(1);
  const pieces = joins.flatMap(({ from, to }) => {
    const [a, b] = [at2[from], at2[to]];
    return a == null || b == null ? [] : [[a, b]];
  });
  const drawn = (path: (piece: Placed[]) => string | null) => pieces.map((piece) => path(piece) ?? '').join('');
  const known = at2.flatMap((point) => point ?? []);
  return html`<path class="band ${supply}" d="${drawn(across)}"/><path class="edge ${supply}" d="${drawn(edge(({ lowV }) => lowV))}${drawn(edge(({ highV }) => highV))}"/>${known.map(
    (point) => html`<circle class="dot ${supply}" cx="${at(x(point.distanceM))}" cy="${at(y(point.lowV))}" r="3"/>`,
  )}`;
}

/** The names of the points over the upper curve, the farthest and of these the lowest first. */
function pointNames({ points }: Profile, { x, y }: Scales): Label[] {
  const known = points.flatMap((point) => placedAt(point, 'typical') ?? []);
  known.sort((a, b) => b.distanceM - a.distanceM || a.lowV - b.lowV);
  return known.flatMap(({ name, distanceM, highV }) => {
    if (name === null) return [];
    const text = short(name, LONGEST_NAME);
    return [{ x: x(distanceM), y: y(highV) - 8, text, anchor: anchorAt(x(distanceM), textWidth(text)) }];
  });
}

/** A name stays within the picture's frame, off what stands beside it. */
function anchorAt(x: number, width: number): Anchor {
  if (x - width / 2 < PLOT.left) return 'start';
  return x + width / 2 > PLOT.right ? 'end' : 'middle';
}

/** What the lines are, at their right ends, one under the other where they come close. */
function endNames(profile: Profile, { y }: Scales, leastDeviceV: number, { texts: { site } }: Page): Label[] {
  const endOf = (supply: Supply) => {
    const known = profile.points.flatMap((point) => placedAt(point, supply) ?? []);
    return [...known].sort((a, b) => b.distanceM - a.distanceM)[0]?.lowV;
  };
  const ends = [
    { v: endOf('typical'), text: site.typicalBand },
    { v: endOf('least'), text: site.leastBand },
    { v: leastDeviceV, text: site.leastDevice },
  ];
  const marks = ends.flatMap(({ v, text }) => (v === undefined ? [] : [{ y: y(v) + 4, text }]));
  marks.sort((a, b) => a.y - b.y);
  let above = 0;
  return marks.map((mark) => {
    above = Math.max(mark.y, above + LINE_HEIGHT);
    return { x: PLOT.right + 6, y: above, text: mark.text, anchor: 'start' };
  });
}

function voltageTable(title: string, { points }: Profile, { texts: { columns }, figures }: Page): Markup {
  const band = (heading: string, of: (point: Point) => Point[Supply]): TableColumn<Point> => ({
    heading,
    cell: (point) => figures.between(of(point).lowV, of(point).highV, 'V'),
    value: (point) => of(point).lowV,
  });
  return table<Point>({
    caption: title,
    columns: [
      { heading: columns.point, cell: ({ name }) => name ?? '–' },
      {
        heading: columns.distance,
        cell: ({ distanceM }) => figures.orNothing(distanceM, 'm'),
        value: ({ distanceM }) => distanceM,
      },
      band(columns.typical, ({ typical }) => typical),
      band(columns.least, ({ least }) => least),
    ],
    rows: points,
    isHeaded: true,
  });
}
