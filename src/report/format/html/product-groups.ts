import { scaleLinear } from 'd3-scale';
import { sum } from '../../../units.js';
import { ORIGINS, type ReportDevice, type ReportSegment } from '../../report.js';
import { loadBar } from './load-bar.js';
import { html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { groupedBy } from './order.js';
import type { Part } from './palette.js';
import { label, picture, short } from './svg.js';
import { folded, numberColumn, table } from './table.js';

interface Group {
  readonly name: string;
  /** None of what is drawn beside the bus. */
  readonly devices: number | null;
  readonly ma: number;
  readonly parts: Readonly<Partial<Record<Part, number>>>;
}

const MOST_BARS = 10;
const ROW = 20;
const PLOT = { width: 740, left: 290, right: 630 };

/** The whole load of a segment by product, as bars with a table behind. @param anchor of the segment */
export function productGroups({ label: of, devices, load }: ReportSegment, anchor: string, page: Page): Markup {
  const { segments, plant } = page.texts;
  const segment = page.words.names.segment(of);
  const products = groupsOf(devices, segments.noProduct);
  const beside = besideTheBus(load.auxiliaryMa, plant.parts.auxiliary);
  const groups = [...products, ...beside];
  if (groups.length === 0) return NOTHING;
  const bars = [...shown(products, segments.otherProducts), ...beside];
  const most = Math.max(0.001, ...bars.map(({ ma }) => ma));
  const x = scaleLinear([0, most], [PLOT.left, PLOT.right]);
  const chart = picture(
    {
      id: `${anchor}-groups`,
      title: segments.groupsTitle(segment),
      description: segments.groupsDescription,
      width: PLOT.width,
      height: bars.length * ROW + 4,
    },
    bars.map((group, index) => bar(group, index * ROW, x, page.figures.ma)),
  );
  return html`<h4>${segments.groups}</h4>
${chart}${folded(segments.groupsTable(segment), groupTable(segments.groupsTable(segment), groups, page))}`;
}

function groupsOf(devices: readonly ReportDevice[], noProduct: string): Group[] {
  const nameOf = ({ product, orderNumber }: ReportDevice) => {
    const name = product ?? noProduct;
    return orderNumber === null ? name : `${name} (${orderNumber})`;
  };
  const loads = devices.filter(({ currentMa }) => currentMa !== null);
  return groupedBy(loads, nameOf)
    .map((group) => ({
      name: nameOf(group[0] as ReportDevice),
      devices: group.length,
      ma: currentOf(group),
      parts: Object.fromEntries(
        ORIGINS.map((part) => [part, currentOf(group.filter(({ origin }) => origin === part))]),
      ),
    }))
    .sort((a, b) => b.ma - a.ma);
}

/** No device draws it, and it is part of the load. */
function besideTheBus(ma: number, name: string): Group[] {
  return ma > 0 ? [{ name, devices: null, ma, parts: { auxiliary: ma } }] : [];
}

/** Of devices together, mA; currents are exact to the microampere, binary fractions are not. */
function currentOf(devices: readonly ReportDevice[]): number {
  return sum(devices.map(({ currentMa }) => Math.round((currentMa ?? 0) * 1000))) / 1000;
}

/** The greatest, and the others as one. */
function shown(groups: readonly Group[], others: (products: number) => string): readonly Group[] {
  if (groups.length <= MOST_BARS) return groups;
  const rest = groups.slice(MOST_BARS - 1);
  const total = (of: (group: Group) => number) => sum(rest.map((group) => Math.round(of(group) * 1000))) / 1000;
  const together = {
    name: others(rest.length),
    devices: sum(rest.map(({ devices }) => devices ?? 0)),
    ma: total(({ ma }) => ma),
    parts: Object.fromEntries(ORIGINS.map((part) => [part, total(({ parts }) => parts[part] ?? 0)])),
  };
  return [...groups.slice(0, MOST_BARS - 1), together];
}

function bar(
  { name, devices, ma, parts }: Group,
  y: number,
  x: (ma: number) => number,
  told: (ma: number) => string,
): Markup {
  const boxes = loadBar(parts, x, { y: y + 4, height: ROW - 6 });
  const figure = devices === null ? told(ma) : `${told(ma)} (${devices})`;
  return html`${label(PLOT.left - 6, y + 15, short(name), 'end')}${boxes}${label(x(ma) + 6, y + 15, figure)}`;
}

function groupTable(caption: string, groups: readonly Group[], { texts: { columns }, figures }: Page): Markup {
  return table<Group>({
    caption,
    columns: [
      { heading: columns.product, cell: ({ name }) => name },
      numberColumn(figures, [columns.devices, ''], ({ devices }) => devices),
      numberColumn(figures, [columns.load, 'mA'], ({ ma }) => ma),
      numberColumn(figures, [columns.overridden, 'mA'], ({ parts }) => parts.overridden ?? 0),
      numberColumn(figures, [columns.assumed, 'mA'], ({ parts }) => parts.assumed ?? 0),
    ],
    rows: groups,
    isHeaded: true,
  });
}
