import { count, list, milliamps } from '../../rules/words.js';
import type { ReportNewMainLine, ReportPiece, ReportPlan, ReportProposal } from '../proposal-shape.js';
import { bullet } from './layout.js';
import { choiceText, marginText } from './text-choice.js';

/** So many devices that change their line are named; the JSON report has all of them. */
const MOST_NAMED = 12;

/** A segment that is split: what stays, what each new line gets, and what that means above. @param where `Line 1.1` */
export function splitText(where: string, { because, conditions }: ReportProposal, plan: ReportPlan): string[] {
  const lines = plan.pieces.filter(({ isNew }) => isNew).length;
  return [
    bullet('  -', `${where}: split into itself and ${count(lines, 'new line')}, as ${because}. ${provedText(plan)}`),
    ...plan.pieces.map((piece) => bullet('    *', pieceText(piece))),
    bullet('    *', aboveText(plan)),
    ...conditions.map((condition) => bullet('    Mind:', condition)),
  ];
}

/** A main line that has to be made as well. */
export function mainLineText({ line, couplers, loadMa, plannedMa, choice }: ReportNewMainLine): string {
  const load = `${count(couplers, 'coupler')}, ${milliamps(loadMa)}`;
  if (choice === null) return bullet('  -', `New main line ${line}: ${load}, which no supplies from stock carry.`);
  return bullet('  -', `New main line ${line}: ${load}; ${choiceText(choice)}; ${marginText(choice, { plannedMa })}.`);
}

function provedText({ method, lowerBound, gap, pieces, torn }: ReportPlan): string {
  const places = torn === 0 ? 'no place is' : `${count(torn, 'place is', 'places are')}`;
  const fewest =
    gap.segments === 0
      ? 'No fewer would do'
      : `At least ${lowerBound} segments are needed, ${pieces.length} were found`;
  const parted = `${places} parted${gap.torn === 0 ? '' : `, which might be ${gap.torn} fewer`}`;
  const even = gap.evenMa === 0 ? '' : `; the greatest load might be up to ${milliamps(gap.evenMa)} less`;
  return `${fewest}; ${parted}${even} (${METHODS[method]}).`;
}

const METHODS: { readonly [method in ReportPlan['method']]: string } = {
  optimal: 'proved to be the best',
  'within the time': 'searched as long as the time allowed',
  heuristic: 'by first-fit decreasing over boards and rooms, not proved',
};

function pieceText({ label, isNew, coupler, loadMa, plannedMa, devices, choice }: ReportPiece): string {
  const who = isNew ? `New line ${label}` : `Line ${label} keeps`;
  const own = coupler === null ? '' : `, with its coupler of ${milliamps(coupler.lowerMa)}`;
  const what = `${who}${isNew ? ' gets' : ''} ${count(devices.length, 'device')}: ${milliamps(loadMa)}${own}`;
  const supplies = `${choiceText(choice)}; ${marginText(choice, { plannedMa })}`;
  return `${what}; ${supplies}.${isNew ? ` ${movedText(devices)}` : ''}`;
}

function movedText(devices: ReportPiece['devices']): string {
  const moved = devices.map(({ name, address, proposedAddress }) =>
    address === null ? name : `${address} → ${proposedAddress ?? 'a free address'}`,
  );
  return `Moved: ${list(moved, MOST_NAMED)}.`;
}

function aboveText({ above }: ReportPlan): string {
  const { line, kind, couplers } = above;
  if (kind === 'IP') return `Line ${line} above is IP: the ${count(couplers.count, 'new coupler')} draw nothing of it.`;
  const load = `${count(couplers.count, 'new coupler')}, ${milliamps(couplers.ma)}`;
  if (kind === 'new') return `Line ${line} above is not there yet: it has to be made; of this split it gets ${load}.`;
  return `Line ${line} above gets ${load}; its own proposal counts them.`;
}
