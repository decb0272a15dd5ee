import { deviceLabel } from '../../../plant/plant.js';
import type { ReportPiece, ReportPlan, ReportProposal } from '../../proposal-shape.js';
import type { ReportSegment } from '../../report.js';
import { choiceText, marginText } from '../text-choice.js';
import { type Content, html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { bullets, folded, table } from './table.js';
import { en } from './texts.js';

/** What to do about the supplies, where anything is to be done. */
export function proposals(page: Page): Markup {
  const { segments, newMainLines } = page.report;
  const changed = changesOf(segments);
  if (changed.length === 0)
    return html`<p>${en.proposals.none}</p>
`;
  const mainLines = newMainLines.map((line) => {
    const choice = line.choice && `${choiceText(line.choice)}; ${marginText(line.choice, { plannedMa: 0 })}`;
    return html`<p>${en.proposals.mainLine(line)}: ${choice ?? en.proposals.noChoice}.</p>
`;
  });
  return html`${changed.map((segment) => told(segment, page))}${mainLines}`;
}

/** The proposal of a segment in its card, in a line. */
export function proposalBrief({ proposal }: ReportSegment, page: Page): Markup {
  const { action, choice, because } = proposal;
  if (action === 'stays') return NOTHING;
  const text = choice === null ? because : choiceText(choice);
  const shared = proposal.with.map((id, index) => html`${index === 0 ? ' (' : ', '}${page.link(id)}`);
  return html`<h4>${en.segments.proposal}</h4>
<p>${action}${text !== null && `: ${text}`}${shared.length > 0 && html`${shared})`}</p>
`;
}

/** Of segments that share a proposal the first tells it. */
function changesOf(segments: readonly ReportSegment[]): ReportSegment[] {
  const told = new Set<string>();
  return segments.filter(({ id, proposal }) => {
    if (proposal.action === 'stays' || proposal.action === 'none' || told.has(id)) return false;
    for (const other of proposal.with) told.add(other);
    return true;
  });
}

function told(segment: ReportSegment, page: Page): Markup {
  const { proposal, label } = segment;
  const { action, because, choice, others, plan, conditions, newCouplers } = proposal;
  const labels = [label, ...proposal.with.map((id) => page.labelOf(id))];
  const carries = (one: NonNullable<typeof choice>) => `${choiceText(one)}; ${marginText(one, proposal)}.`;
  const ways: Content[] = [
    because !== null && en.proposals.as(because),
    newCouplers.count > 0 && en.proposals.couplers(newCouplers.count, newCouplers.ma),
    plan === null && choice && carries(choice),
    ...(plan === null ? others.map((other) => html`${en.proposals.or}: ${carries(other)}`) : []),
    movesText(segment, page),
    ...conditions.map((condition) => html`${en.proposals.mind}: ${condition}`),
  ];
  return html`<h3>${en.proposals.where(labels, action)}</h3>
${plan && split(plan, segment)}${bullets(ways.filter((way) => way !== false && way !== null))}`;
}

function split(plan: ReportPlan, { label, proposal }: ReportSegment): Markup {
  const devices = plan.pieces.map((piece) => pieceDevices(piece));
  return html`<p>${en.proposals.proved(plan)} ${en.proposals.methods[plan.method]} ${en.proposals.above(plan.above)}</p>
${pieceTable(plan, label, proposal)}${folded(
  en.proposals.pieceDevices,
  html`<ul>${devices}</ul>
`,
)}`;
}

function pieceTable({ pieces }: ReportPlan, label: string, { action }: ReportProposal): Markup {
  return table<ReportPiece>({
    caption: `${en.proposals.pieces(label)} (${action})`,
    columns: [
      { heading: en.columns.segment, cell: en.proposals.piece },
      { heading: en.columns.devices, cell: ({ devices }) => devices.length, value: ({ devices }) => devices.length },
      { heading: en.columns.load, cell: ({ loadMa }) => en.ma(loadMa), value: ({ loadMa }) => loadMa },
      { heading: en.columns.planned, cell: ({ plannedMa }) => en.ma(plannedMa), value: ({ plannedMa }) => plannedMa },
      { heading: en.proposals.supplies, cell: ({ choice }) => choiceText(choice) },
      { heading: en.columns.headroom, cell: ({ choice, plannedMa }) => marginText(choice, { plannedMa }) },
    ],
    rows: pieces,
  });
}

function pieceDevices(piece: ReportPiece): Markup {
  const devices = piece.devices.map((device) => en.proposals.pieceDevice(device, piece.isNew));
  return html`<li>${en.proposals.piece(piece)}: ${devices.join(', ')}</li>
`;
}

function movesText({ devices, proposal }: ReportSegment, page: Page): Content {
  const { moves } = proposal;
  if (moves === null) return null;
  const labels = new Map(devices.map((device) => [device.id, deviceLabel(device)]));
  const names = moves.devices.map((id) => labels.get(id) ?? id);
  const what = en.proposals.move(names, moves.movedMa, page.labelOf(moves.to));
  return html`${en.proposals.or}: ${what}, ${en.proposals.near(moves.nearness, moves.sharedPlaces)}; ${en.proposals.left(moves.leftMa, moves.leftThereMa)}${bullets(moves.conditions)}`;
}
