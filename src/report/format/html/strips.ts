import { type ScaleLinear, scaleLinear } from 'd3-scale';
import type { ReportSegment } from '../../report.js';
import { loadBar } from './load-bar.js';
import { html, type Markup } from './markup.js';
import { fullName, type Page } from './model.js';
import { byVerdict, groupedBy } from './order.js';
import { PART_HATCH, PARTS, type Part } from './palette.js';
import { at, type Box, box, filled, line } from './svg.js';

const WIDTH = 600;
const HEIGHT = 22;
const BAR = { y: 6, height: 12 };

/** The plant: a strip for each line, worst first, with load against rating of each of its segments. */
export function strips(page: Page): Markup {
  const { segments } = page.report;
  const { plant } = page.texts;
  const most = Math.max(0, ...segments.map(lengthOf));
  const scale = scaleLinear([0, most || 1], [2, WIDTH - 2]);
  const lines = groupedBy(segments, ({ project, installation, line }) => JSON.stringify([project, installation, line]));
  const worstFirst = lines
    .map((group) => [...group].sort(byVerdict))
    .sort(([a], [b]) => (a === undefined || b === undefined ? 0 : byVerdict(a, b)));
  return html`<p>${plant.intro}${most > 0 && html` ${plant.scale(page.figures.ma(most))}`}</p>
${legend(page)}<ol class="strips">
${worstFirst.map((group) => strip(group, scale, page))}</ol>
`;
}

/** A line of one segment needs no heading over it. */
function strip(group: readonly ReportSegment[], scale: ScaleLinear<number, number>, page: Page): Markup | false {
  const [first, ...others] = group;
  if (first === undefined) return false;
  const heading = page.texts.plant.line({ line: first.line, name: first.lineName ?? '' });
  return html`<li class="strip" ${page.filterable(group)}>${
    others.length > 0 &&
    html`<span class="strip-line">${heading}</span>
`
  }${group.map((segment) => row(segment, others.length === 0 ? fullName(segment) : segment.name, scale, page))}</li>
`;
}

function row(segment: ReportSegment, name: string | null, scale: ScaleLinear<number, number>, page: Page): Markup {
  const figures = figuresOf(segment, page);
  const label = page.labelOf(segment.id);
  const share = segment.utilisation === null ? '' : page.figures.percent(segment.utilisation);
  return html`<div class="strip-row"><span class="strip-name"><a href="#${page.anchorOf(segment)}">${label}</a> ${name}</span>
<svg role="img" viewBox="0 0 ${WIDTH} ${HEIGHT}"><title>${page.texts.plant.strip({ segment: label, figures })}</title>${drawing(segment, scale)}</svg>
<span class="strip-figures">${figures}</span> <span class="strip-share">${share}</span> <b class="verdict v-${segment.verdict}">${page.words.names.verdicts[segment.verdict]}</b></div>
`;
}

function figuresOf(
  { verdict, medium, load, supply }: ReportSegment,
  { texts: { plant }, figures, words }: Page,
): string {
  if (verdict === 'not-bus-powered') return words.names.medium(medium.name);
  const { shared, units, capacityMa } = supply;
  const total = shared === null ? figures.ma(load.totalMa) : plant.together(figures.ma(shared.loadMa));
  const capacity = shared === null ? capacityMa : shared.capacityMa;
  if (capacity !== null && (units.length > 0 || shared !== null))
    return plant.carried({ load: total, capacity: figures.ma(capacity) });
  if (shared !== null) return total;
  if (units.length === 0) return verdict === 'undecidable' ? plant.feedUnknown(total) : plant.noSupply(total);
  return supply.unrated > 0 ? plant.unrated(total) : plant.rated({ load: total, ratings: figures.ma(supply.ratedMa) });
}

/** What the supplies may give: of shared ones, all that they depend on. */
function capacityOf({ supply }: ReportSegment): number | null {
  return supply.shared === null ? supply.capacityMa : supply.shared.capacityMa;
}

function partsOf({ load, supply }: ReportSegment): Readonly<Record<Part, number>> {
  return {
    declared: load.declaredMa,
    overridden: load.overriddenMa,
    assumed: load.assumedMa,
    auxiliary: load.auxiliaryMa,
    others: supply.shared === null ? 0 : Math.max(0, supply.shared.loadMa - load.totalMa),
  };
}

function lengthOf(segment: ReportSegment): number {
  return Math.max(capacityOf(segment) ?? 0, loadOf(segment) + segment.load.plannedMa);
}

function loadOf(segment: ReportSegment): number {
  return Object.values(partsOf(segment)).reduce((sum, part) => sum + part, 0);
}

function drawing(segment: ReportSegment, scale: ScaleLinear<number, number>): Markup {
  if (segment.verdict === 'not-bus-powered') return line(2, HEIGHT / 2, WIDTH - 2, HEIGHT / 2, 'no-bus');
  const load = loadOf(segment);
  const capacity = capacityOf(segment);
  const { plannedMa } = segment.load;
  return html`${loadBar(partsOf(segment), scale, BAR)}${plannedMa > 0 && box(span(scale, load, load + plannedMa), 'planned')}${capacity !== null && frame(segment, capacity, load, scale)}`;
}

function frame(segment: ReportSegment, capacity: number, load: number, scale: ScaleLinear<number, number>): Markup {
  const end = scale(capacity);
  const share = (capacity * (segment.supply.targetMa ?? 0)) / (segment.supply.capacityMa || 1);
  const beyond =
    load > capacity && filled({ ...span(scale, capacity, load), y: 2, height: HEIGHT - 4 }, 'p-beyond', 'crossed');
  const target = share > 0 && line(scale(share), 1, scale(share), HEIGHT - 1, 'target');
  return html`${beyond}<path class="frame" d="M2 4H${at(end)}V20H2Z"/>${line(end, 1, end, HEIGHT - 1, 'stop')}${target}`;
}

function span(scale: ScaleLinear<number, number>, from: number, to: number): Box {
  return { x: scale(from), width: scale(to) - scale(from), ...BAR };
}

function legend({ texts: { plant } }: Page): Markup {
  const area = { x: 1, y: 1, width: 22, height: 12 };
  const swatch = (content: Markup, text: string) =>
    html`<li><svg aria-hidden="true" width="24" height="14" viewBox="0 0 24 14">${content}</svg> ${text}</li>`;
  return html`<ul class="legend" aria-label="${plant.legend}">${PARTS.map((part) =>
    swatch(filled(area, `p-${part}`, PART_HATCH[part]), plant.parts[part]),
  )}${swatch(filled(area, 'p-beyond', 'crossed'), plant.parts.beyond)}${swatch(box(area, 'planned'), plant.parts.planned)}</ul>
`;
}
