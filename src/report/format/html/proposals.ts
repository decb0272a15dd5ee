import type { ReportChoice } from '../../proposal-shape.js';
import type { ReportSegment } from '../../report.js';
import { choiceColumns } from './choice-table.js';
import { mainLines } from './main-lines.js';
import { type Content, html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { moves } from './moves.js';
import { split } from './split.js';
import { bullets, facts, table } from './table.js';
import { verdictColumn } from './verdict-column.js';

/** What to do about the supplies, where anything is to be done. */
export function proposals(page: Page): Markup {
  const { segments, newMainLines } = page.report;
  const changed = changesOf(segments);
  const open = segments.filter(isLeftOpen);
  if (changed.length === 0 && open.length === 0)
    return html`<p>${page.texts.proposals.none}</p>
`;
  return html`${changed.map((segment) => proposal(segment, page))}${mainLines(newMainLines, page)}${leftOpen(open, page)}`;
}

/** Whether something may have to be done that cannot be proposed. */
function isLeftOpen({ proposal, medium, verdict }: ReportSegment): boolean {
  return proposal.action === 'none' && medium.needsPower && verdict !== 'idle';
}

function leftOpen(segments: readonly ReportSegment[], page: Page): Markup {
  if (segments.length === 0) return NOTHING;
  const { texts } = page;
  return html`<h3>${texts.proposals.leftOpen}</h3>
${table<ReportSegment>({
  caption: texts.proposals.leftOpen,
  columns: [
    { heading: texts.columns.segment, cell: ({ id }) => page.link(id) },
    verdictColumn(page),
    { heading: texts.proposals.because, cell: ({ proposal: { because } }) => because },
  ],
  rows: segments,
  isHeaded: true,
})}`;
}

/** The proposal of a segment in its card, in a line, with the way to where it is told. */
export function proposalBrief(segment: ReportSegment, page: Page): Markup {
  const { proposal: of, medium } = segment;
  if (of.action === 'stays' || !medium.needsPower) return NOTHING;
  const { texts } = page;
  const action = texts.names.actions[of.action];
  const teller = tellerOf(segment, page);
  const told = teller === null ? action : html`<a href="#${page.proposalAnchorOf(teller)}">${action}</a>`;
  return html`<h4>${texts.segments.proposal}</h4>
${facts([
  [texts.proposals.action, told],
  [texts.proposals.together, of.with.length > 0 && page.links(of.with)],
  [texts.proposals.because, of.because],
])}`;
}

/** Where nothing can be proposed there is nothing told. */
function tellerOf(segment: ReportSegment, page: Page): ReportSegment | null {
  if (segment.proposal.action === 'none') return null;
  const sharing = [segment, ...segment.proposal.with.flatMap((id) => page.segmentOf(id) ?? [])];
  const { segments } = page.report;
  return segments.find((one) => sharing.includes(one)) ?? null;
}

/** Of segments that share a proposal the first tells it. */
function changesOf(segments: readonly ReportSegment[]): ReportSegment[] {
  const told = new Set<string>();
  return segments.filter(({ id, proposal: { action, with: others } }) => {
    if (action === 'stays' || action === 'none' || told.has(id)) return false;
    for (const other of others) told.add(other);
    return true;
  });
}

function proposal(segment: ReportSegment, page: Page): Markup {
  const { id, proposal: of } = segment;
  const { texts, words, figures } = page;
  const { proposals: say } = texts;
  const ids = [id, ...of.with];
  const names = words.figures.list(ids.map((one) => page.labelOf(one)));
  const title = say.where({ segments: ids, names, action: texts.names.actions[of.action] });
  const { count: couplers, ma } = of.newCouplers;
  return html`<section class="proposal" id="${page.proposalAnchorOf(segment)}" ${page.filterable([segment])}><h3>${title}</h3>
${facts([
  [say.because, of.because],
  [texts.columns.segment, page.links(ids)],
  [say.load, figures.ma(of.loadMa)],
  [say.couplers, couplers > 0 && say.couplersText({ couplers, current: figures.ma(ma) })],
  [say.planned, of.plannedMa > 0 && figures.ma(of.plannedMa)],
])}${of.plan === null ? ways(segment, names, page) : split(segment, of.plan, page)}${conditions(of.conditions, page)}${moves(segment, page)}</section>
`;
}

interface Way {
  readonly name: string;
  readonly choice: ReportChoice;
}

/** The choice, and what would do as well, next best first. */
function ways({ proposal: { choice, others } }: ReportSegment, names: string, page: Page): Markup {
  if (choice === null) return NOTHING;
  const { proposals: say } = page.texts;
  const rows: Way[] = [{ name: say.proposed, choice }, ...others.map((other) => ({ name: say.or, choice: other }))];
  const columns = [
    { heading: say.way, cell: ({ name }: Way): Content => name },
    ...choiceColumns(rows, (way: Way) => way.choice, page),
  ];
  return table({ caption: say.ways(names), columns, rows });
}

function conditions(texts: readonly string[], page: Page): Markup {
  if (texts.length === 0) return NOTHING;
  return html`<p>${page.texts.proposals.conditions}</p>
${bullets(texts)}`;
}
