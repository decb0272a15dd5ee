import type { ReportSegment } from '../../report.js';
import { ratingText, verdictText } from '../text.js';
import { deviceTable } from './device-table.js';
import { type Content, html, type Markup, NOTHING } from './markup.js';
import { filterable, fullName, type Page } from './model.js';
import { productGroups } from './product-groups.js';
import { proposalBrief } from './proposals.js';
import { segmentSite } from './segment-site.js';
import { bullets, facts, folded, type TableColumn, table } from './table.js';
import { en } from './texts.js';

/** So many cards stand open on a screen; of more all are folded, so that the page opens at once. */
const MOST_OPEN = 24;
/** A card of more devices begins a page of its own when it is printed. */
const LONG_CARD = 15;

/** All that is known of each segment, in the order of the plant. */
export function segmentCards(page: Page): Markup {
  const { segments } = page.report;
  const open = segments.length <= MOST_OPEN;
  return html`${segments.map((segment) => card(segment, page, open))}`;
}

function card(segment: ReportSegment, page: Page, open: boolean): Markup {
  const anchor = page.anchorOf(segment);
  const severities = page.findingsOf(segment).map(({ severity }) => severity);
  return html`<details class="card${segment.devices.length > LONG_CARD && ' long'}"${open && html` open`} ${filterable([segment.verdict], severities)}><summary><h3>${en.segments.title(segment, fullName(segment))}</h3> <b class="verdict v-${segment.verdict}">${verdictText(segment)}</b></summary>
<div class="card-body" id="${anchor}">
${figuresOf(segment, page)}${supplyTable(segment)}${findingLinks(segment, page)}${proposalBrief(segment, page)}${productGroups(segment, anchor)}${segmentSite(segment, anchor, page.report.policy.values.leastDeviceV)}${
  segment.notes.length > 0 &&
  html`<h4>${en.segments.notes}</h4>
${bullets(segment.notes)}`
}${devices(segment)}</div></details>
`;
}

function devices(segment: ReportSegment): Markup {
  if (segment.devices.length === 0) return deviceTable(segment);
  return folded(en.segments.devicesFolded(segment.devices.length), deviceTable(segment));
}

function figuresOf(segment: ReportSegment, page: Page): Markup {
  const { load, supply, utilisation, headroomMa, roomForDevices, medium, fanIn, reach } = segment;
  if (!medium.needsPower) return facts([[en.segments.medium, medium.name]]);
  const above = (value: number) => value > 0 && en.ma(value);
  const entries: [string, Content][] = [
    [en.segments.medium, medium.name],
    [en.segments.load, en.ma(load.totalMa)],
    [en.segments.auxiliary, above(load.auxiliaryMa)],
    [en.segments.couplersBelow, above(load.couplersBelowMa)],
    [en.segments.planned, above(load.plannedMa)],
    [en.segments.ratings, ratingText(supply)],
    [en.segments.capacity, en.maOrNothing(supply.capacityMa)],
    [en.segments.target, en.maOrNothing(supply.targetMa)],
    [en.segments.share, utilisation !== null && en.percent(utilisation)],
    [en.segments.headroom, headroomMa !== null && en.signedMa(headroomMa)],
    [
      en.segments.room,
      roomForDevices !== null && en.segments.roomText(roomForDevices, page.report.policy.values.assumedCurrentMa),
    ],
    ...assumedFacts(segment),
    [en.segments.withoutLargest, en.maOrNothing(supply.capacityWithoutLargestMa)],
    [en.segments.shortCircuit, above(supply.shortCircuitMa)],
    [en.segments.suggested, en.maOrNothing(segment.suggestedRatingMa)],
    [en.segments.shared, supply.shared?.with.map((id, index) => html`${index > 0 && ', '}${page.link(id)}`)],
    [en.segments.chokes, supply.chokes.length > 0 && String(supply.chokes.length)],
    [en.segments.fanIn, fanIn && en.segments.fanInText(fanIn)],
    [en.segments.reach, reach && en.segments.reachText(reach)],
  ];
  return html`<h4>${en.segments.figures}</h4>
${facts(entries)}${
  supply.feed === 'unknown' &&
  html`<p>${en.segments.feedUnknown}</p>
`
}`;
}

function assumedFacts({ load, breakEven, sensitivity }: ReportSegment): [string, Content][] {
  if (load.assumedItems === 0) return [];
  return [
    [en.segments.assumed, en.segments.assumedText(load.assumedMa, load.assumedItems)],
    [en.segments.breakEven, en.segments.breakEvenText(breakEven.toTightMa, breakEven.toInsufficientMa)],
    [en.segments.bounds, sensitivity && en.segments.boundsText(sensitivity)],
  ];
}

type Unit = ReportSegment['supply']['units'][number];

const SUPPLY_COLUMNS: readonly TableColumn<Unit>[] = [
  { heading: en.columns.name, cell: ({ name }) => name },
  { heading: en.columns.address, cell: ({ address }) => address },
  {
    heading: en.columns.rating,
    cell: ({ ratedMa }) => (ratedMa === null ? en.notKnown : en.ma(ratedMa)),
    value: ({ ratedMa }) => ratedMa,
  },
  { heading: en.columns.kind, cell: ({ kind }) => kind },
  { heading: en.columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
  { heading: en.columns.board, cell: ({ board }) => board },
  { heading: en.columns.mains, cell: ({ mainsCircuit }) => mainsCircuit },
];

function supplyTable({ label, supply }: ReportSegment): Markup {
  if (supply.units.length === 0) return NOTHING;
  return table({ caption: en.segments.supplies(label), columns: SUPPLY_COLUMNS, rows: supply.units });
}

function findingLinks(segment: ReportSegment, page: Page): Markup {
  const titles = new Map(page.report.rules.map(({ id, title }) => [id, title]));
  const links = page
    .findingsOf(segment)
    .map(
      (finding) =>
        html`<a href="#${page.findingAnchorOf(finding)}">${finding.severity}: ${titles.get(finding.rule) ?? finding.rule}</a>`,
    );
  return html`<h4>${en.segments.findings}</h4>
${
  links.length === 0
    ? html`<p>${en.segments.noFindings}</p>
`
    : bullets(links)
}`;
}
