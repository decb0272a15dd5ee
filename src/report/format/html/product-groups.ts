import { scaleLinear } from 'd3-scale';
import { sum } from '../../../units.js';
import type { ReportDevice, ReportSegment } from '../../report.js';
import { html, type Markup, NOTHING } from './markup.js';
import { groupedBy } from './order.js';
import { box, hatched, label, picture, short } from './svg.js';
import { folded, table } from './table.js';
import { en } from './texts.js';

interface Group {
  readonly name: string;
  readonly devices: number;
  readonly ma: number;
  readonly assumedMa: number;
}

const MOST_BARS = 10;
const ROW = 20;
const PLOT = { width: 720, left: 250, right: 620 };

/** The load of a segment by product, as bars with a table behind. @param anchor of the segment */
export function productGroups({ label: segment, devices }: ReportSegment, anchor: string): Markup {
  const groups = groupsOf(devices);
  if (groups.length === 0) return NOTHING;
  const bars = shown(groups);
  const most = Math.max(0.001, ...bars.map(({ ma }) => ma));
  const x = scaleLinear([0, most], [PLOT.left, PLOT.right]);
  const chart = picture(
    {
      id: `${anchor}-groups`,
      title: en.segments.groupsTitle(segment),
      description: en.segments.groupsDescription,
      width: PLOT.width,
      height: bars.length * ROW + 4,
    },
    bars.map((group, index) => bar(group, index * ROW, x)),
  );
  return html`<h4>${en.segments.groups}</h4>
${chart}${folded(en.segments.groupsTable(segment), figures(segment, groups))}`;
}

function groupsOf(devices: readonly ReportDevice[]): Group[] {
  const loads = devices.filter(({ currentMa }) => currentMa !== null);
  return groupedBy(loads, nameOf)
    .map((group) => ({
      name: nameOf(group[0] as ReportDevice),
      devices: group.length,
      ma: currentOf(group),
      assumedMa: currentOf(group.filter(({ origin }) => origin === 'assumed')),
    }))
    .sort((a, b) => b.ma - a.ma);
}

function nameOf({ product, orderNumber }: ReportDevice): string {
  const name = product ?? en.segments.noProduct;
  return orderNumber === null ? name : `${name} (${orderNumber})`;
}

/** Of devices together, mA; currents are exact to the microampere, binary fractions are not. */
function currentOf(devices: readonly ReportDevice[]): number {
  return sum(devices.map(({ currentMa }) => Math.round((currentMa ?? 0) * 1000))) / 1000;
}

/** The greatest, and the others as one. */
function shown(groups: readonly Group[]): readonly Group[] {
  if (groups.length <= MOST_BARS) return groups;
  const rest = groups.slice(MOST_BARS - 1);
  const total = (of: (group: Group) => number) => sum(rest.map((group) => Math.round(of(group) * 1000))) / 1000;
  const others = {
    name: en.segments.otherProducts(rest.length),
    devices: sum(rest.map(({ devices }) => devices)),
    ma: total(({ ma }) => ma),
    assumedMa: total(({ assumedMa }) => assumedMa),
  };
  return [...groups.slice(0, MOST_BARS - 1), others];
}

function bar({ name, devices, ma, assumedMa }: Group, y: number, x: (ma: number) => number): Markup {
  const span = (from: number, to: number) => ({ x: x(from), width: x(to) - x(from), y: y + 4, height: ROW - 6 });
  const assumed = span(ma - assumedMa, ma);
  return html`${label(PLOT.left - 6, y + 15, short(name), 'end')}${box(span(0, ma - assumedMa), 'p-declared')}${
    assumedMa > 0 && html`${box(assumed, 'p-assumed')}${hatched(assumed, 'rising')}`
  }${label(x(ma) + 6, y + 15, `${en.ma(ma)} (${devices})`)}`;
}

function figures(segment: string, groups: readonly Group[]): Markup {
  return table<Group>({
    caption: en.segments.groupsTable(segment),
    columns: [
      { heading: en.columns.product, cell: ({ name }) => name },
      { heading: en.columns.devices, cell: ({ devices }) => devices, value: ({ devices }) => devices },
      { heading: en.columns.load, cell: ({ ma }) => en.ma(ma), value: ({ ma }) => ma },
      { heading: en.columns.assumed, cell: ({ assumedMa }) => en.ma(assumedMa), value: ({ assumedMa }) => assumedMa },
    ],
    rows: groups,
  });
}
