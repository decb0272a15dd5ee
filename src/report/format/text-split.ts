import type { Words } from '../../words/words.js';
import type { ReportNewMainLine, ReportPiece, ReportPlan, ReportProposal } from '../proposal-shape.js';
import { bullet } from './layout.js';
import { choiceText } from './text-choice.js';

/** A segment that is split: what stays, what each new line gets, and what that means above. @param where `Line 1.1` */
export function splitText(
  where: string,
  { because, conditions }: ReportProposal,
  plan: ReportPlan,
  words: Words,
): string[] {
  const { mind, split } = words.proposals;
  const { line, kind, couplers } = plan.above;
  const lines = plan.pieces.filter(({ isNew }) => isNew).length;
  return [
    bullet('  -', split.title({ where, lines, because, proved: provedText(plan, words) })),
    ...plan.pieces.map((piece) => bullet('    *', pieceText(piece, words))),
    bullet('    *', split.above({ line, kind, couplers: couplers.count, ma: couplers.ma })),
    ...conditions.map((condition) => bullet(`    ${mind}`, condition)),
  ];
}

/** A main line that has to be made as well. */
export function mainLineText({ choice, ...line }: ReportNewMainLine, words: Words): string {
  const supplies = choice && choiceText(choice, line, words);
  return bullet('  -', words.proposals.split.mainLine({ ...line, supplies }));
}

function provedText({ method, lowerBound, gap, pieces, torn }: ReportPlan, { proposals }: Words): string {
  return proposals.split.proved({
    method,
    lowerBound,
    pieces: pieces.length,
    torn,
    gapSegments: gap.segments,
    gapTorn: gap.torn,
    gapEvenMa: gap.evenMa,
  });
}

function pieceText(piece: ReportPiece, words: Words): string {
  const { label, isNew, coupler, loadMa, devices, choice } = piece;
  const what = words.proposals.split.piece({
    line: label,
    isNew,
    devices: devices.length,
    loadMa,
    couplerMa: coupler?.lowerMa ?? null,
    supplies: choiceText(choice, piece, words),
  });
  return isNew ? `${what} ${movedText(devices, words)}` : what;
}

/** So many devices that change their line are named as the words have it; the JSON report has all of them. */
function movedText(devices: ReportPiece['devices'], { proposals }: Words): string {
  const { moved, aFreeAddress } = proposals.split;
  return moved(
    devices.map(({ name, address, proposedAddress }) =>
      address === null ? name : `${address} → ${proposedAddress ?? aFreeAddress}`,
    ),
  );
}
