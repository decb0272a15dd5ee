import type { ReportSegment } from '../../report.js';
import { verdictText } from '../segment-cells.js';
import { deviceTable } from './device-table.js';
import { html, type Markup, NOTHING } from './markup.js';
import { fullName, type Page } from './model.js';
import { productGroups } from './product-groups.js';
import { proposalBrief } from './proposals.js';
import { segmentFigures } from './segment-figures.js';
import { segmentSite } from './segment-site.js';
import { bullets, folded, table } from './table.js';

/** A card of more devices begins a page of its own when it is printed. */
const LONG_CARD = 15;

/** All that is known of each segment, in the order of the plant. */
export function segmentCards(page: Page): Markup {
  return html`${page.report.segments.map((segment) => card(segment, page))}`;
}

function card(segment: ReportSegment, page: Page): Markup {
  const anchor = page.anchorOf(segment);
  const { segments } = page.texts;
  const title = segments.title({ segment: page.labelOf(segment.id), name: fullName(segment) });
  return html`<details class="card${segment.devices.length > LONG_CARD && ' long'}"${!page.isLarge && html` open`} ${page.filterable([segment])}><summary><h3>${title}</h3> <b class="verdict v-${segment.verdict}">${verdictText(segment, page.words)}</b></summary>
<div class="card-body" id="${anchor}">
${segmentFigures(segment, page)}${supplyTable(segment, page)}${findingLinks(segment, page)}${!isIdle(segment) && proposalBrief(segment, page)}${productGroups(segment, anchor, page)}${segmentSite(segment, anchor, page)}${
  segment.notes.length > 0 &&
  html`<h4>${segments.notes}</h4>
${bullets(segment.notes)}`
}${devices(segment, page)}</div></details>
`;
}

/** Nothing hangs on it, and nothing is to be done: that no supply is proposed says nothing more. */
function isIdle({ verdict, proposal }: ReportSegment): boolean {
  return verdict === 'idle' && proposal.action === 'none';
}

function devices(segment: ReportSegment, page: Page): Markup {
  if (segment.devices.length === 0) return deviceTable(segment, page);
  return folded(page.texts.segments.devicesFolded(segment.devices.length), deviceTable(segment, page));
}

function supplyTable({ label, supply }: ReportSegment, { texts, words, figures }: Page): Markup {
  const { columns, segments, frame } = texts;
  if (supply.units.length === 0) return NOTHING;
  return table<ReportSegment['supply']['units'][number]>({
    caption: segments.supplies(words.names.segment(label)),
    columns: [
      { heading: columns.name, cell: ({ name }) => name },
      { heading: columns.address, cell: ({ address }) => address },
      {
        heading: columns.rating,
        cell: ({ ratedMa }) => (ratedMa === null ? frame.notKnown : figures.ma(ratedMa)),
        value: ({ ratedMa }) => ratedMa,
      },
      { heading: columns.kind, cell: ({ kind }) => words.names.supplyKinds[kind] },
      { heading: columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
      { heading: columns.board, cell: ({ board }) => board },
      { heading: columns.mains, cell: ({ mainsCircuit }) => mainsCircuit },
    ],
    rows: supply.units,
  });
}

function findingLinks(segment: ReportSegment, page: Page): Markup {
  const { segments } = page.texts;
  const links = page
    .findingsOf(segment)
    .map(
      (finding) =>
        html`<a href="#${page.findingAnchorOf(finding)}">${page.words.names.severities[finding.severity]}: ${finding.message}</a>`,
    );
  return html`<h4>${segments.findings}</h4>
${
  links.length === 0
    ? html`<p>${segments.noFindings}</p>
`
    : bullets(links)
}`;
}
