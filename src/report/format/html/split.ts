import type { ReportPiece, ReportPlan } from '../../proposal-shape.js';
import type { ReportSegment } from '../../report.js';
import { choiceColumns } from './choice-table.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { facts, folded, numberColumn, table } from './table.js';

/** A segment that is split: what stays, what each new line gets, and what that means above. */
export function split({ label }: ReportSegment, plan: ReportPlan, page: Page): Markup {
  const { proposals } = page.texts;
  const devices = plan.pieces.filter((piece) => piece.isNew).map((piece) => pieceDevices(piece, page));
  return html`<h4>${proposals.split}</h4>
${planFacts(plan, page)}${pieceTable(plan, page.words.names.segment(label), page)}${devices}`;
}

function planFacts({ method, lowerBound, gap, pieces, torn, beside, ...plan }: ReportPlan, page: Page): Markup {
  const { words, texts, figures } = page;
  const { proposals } = texts;
  const { line, kind, couplers } = plan.above;
  const above = { line, couplers: couplers.count, current: figures.ma(couplers.ma) };
  return facts([
    [proposals.fewest, proposals.fewestText({ found: pieces.length, least: lowerBound, isLeast: gap.segments === 0 })],
    [proposals.torn, proposals.tornText({ torn, fewer: gap.torn })],
    [proposals.even, gap.evenMa > 0 && proposals.evenText(figures.ma(gap.evenMa))],
    [proposals.method, words.names.splitMethods[method]],
    [proposals.above, proposals.aboveText[kind](above)],
    [
      proposals.beside,
      beside &&
        proposals.besideText({
          segment: page.labelOf(beside.segment),
          current: figures.ma(beside.coupler.lowerMa),
        }),
    ],
  ]);
}

function pieceTable({ pieces }: ReportPlan, label: string, page: Page): Markup {
  const { texts, figures } = page;
  const { proposals, columns } = texts;
  const planned = pieces.some(({ plannedMa }) => plannedMa > 0);
  const name = (piece: ReportPiece): Content =>
    html`${pieceName(piece, page)}: ${piece.isNew ? proposals.isNew : proposals.keeps}`;
  return table<ReportPiece>({
    caption: proposals.pieces(label),
    columns: [
      { heading: columns.segment, cell: name },
      numberColumn(figures, [columns.devices, ''], ({ devices }) => devices.length),
      numberColumn(figures, [proposals.places, ''], ({ places }) => places),
      numberColumn(figures, [columns.load, 'mA'], ({ loadMa }) => loadMa),
      numberColumn(figures, [proposals.ownCoupler, 'mA'], ({ coupler }) => coupler?.lowerMa ?? null),
      ...(planned ? [numberColumn<ReportPiece>(figures, [columns.planned, 'mA'], ({ plannedMa }) => plannedMa)] : []),
      ...choiceColumns(pieces, ({ choice }: ReportPiece) => choice, page),
    ],
    rows: pieces,
  });
}

function pieceName({ label }: ReportPiece, { words }: Page): string {
  return words.names.segment(label);
}

/** The devices that a new line gets, with the addresses that they have and would have there. */
function pieceDevices(piece: ReportPiece, page: Page): Markup {
  const { proposals, columns } = page.texts;
  const name = pieceName(piece, page);
  const devices = table<ReportPiece['devices'][number]>({
    caption: proposals.devicesOf(name),
    columns: [
      { heading: columns.name, cell: (device) => device.name },
      { heading: proposals.addressNow, cell: ({ address }) => address },
      { heading: proposals.addressThen, cell: (device) => addressesOf(device, proposals.freeAddress) },
    ],
    rows: piece.devices,
    isHeaded: true,
  });
  return folded(proposals.devicesOfFolded({ piece: name, devices: piece.devices.length }), devices);
}

/** One without an address gets none. */
function addressesOf(
  { address, proposedAddress, proposedAdditionalAddresses }: ReportPiece['devices'][number],
  free: string,
): string {
  const first = proposedAddress ?? (address === null ? '' : free);
  return [first, ...proposedAdditionalAddresses].filter((text) => text !== '').join(', ');
}
