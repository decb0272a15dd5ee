import { count, list, milliamps } from '../../rules/words.js';
import type { ReportProposal } from '../proposal-shape.js';
import type { Report, ReportSegment } from '../report.js';
import { bullet } from './layout.js';
import { choiceText, marginText } from './text-choice.js';
import { movesText } from './text-moves.js';
import { mainLineText, splitText } from './text-split.js';

/** So many proposals are told of; the JSON report and the schedule have all. */
const MOST_TOLD = 20;

/** What to do about supplies, where anything is to be done: a proposal each, with the margin that it would leave. */
export function proposalsText({ segments, newMainLines }: Pick<Report, 'segments' | 'newMainLines'>): string {
  const labels = new Map(segments.map(({ id, label }) => [id, label]));
  const proposals = changesOf(segments);
  if (proposals.length === 0) return '';
  const told = proposals.slice(0, MOST_TOLD).flatMap((segment) => proposalLines(segment, labels));
  const rest = proposals.length - MOST_TOLD;
  return [
    `Proposals: ${count(proposals.length, 'change')} to the supplies`,
    ...told,
    ...newMainLines.map(mainLineText),
    ...(rest > 0 ? [`  - ${MOST_TOLD} shown of ${proposals.length}; the JSON report has all of them`] : []),
  ].join('\n');
}

/** Of segments that share a proposal the first tells it. */
function changesOf(segments: Report['segments']): Report['segments'] {
  const told = new Set<string>();
  return segments.filter(({ id, proposal }) => {
    if (proposal.action === 'stays' || proposal.action === 'none' || told.has(id)) return false;
    for (const other of proposal.with) told.add(other);
    return true;
  });
}

function proposalLines(segment: ReportSegment, labels: ReadonlyMap<string, string>): string[] {
  const { label, proposal } = segment;
  const { action, because, choice, others, plan, conditions } = proposal;
  const names = list([label, ...proposal.with.map((id) => labels.get(id) ?? id)]);
  const where = `${proposal.with.length === 0 ? 'Line' : 'Lines'} ${names}`;
  const moves = movesText(segment, labels);
  if (plan !== null) return [...splitText(where, proposal, plan), ...moves];
  if (choice === null) return [bullet('  -', `${where}: ${action}, as ${because}.`), ...moves];
  return [
    bullet('  -', `${where}${couplersText(proposal)}: ${choiceText(choice)}; ${marginText(choice, proposal)}.`),
    ...others.map((other) => bullet('    Or:', `${choiceText(other)}; ${marginText(other, proposal)}.`)),
    ...conditions.map((condition) => bullet('    Mind:', condition)),
    ...moves,
  ];
}

/** Why a line has more load in its proposal than in its balance. */
function couplersText({ newCouplers }: ReportProposal): string {
  if (newCouplers.count === 0) return '';
  return `, with ${count(newCouplers.count, 'new coupler')} of proposed splits (${milliamps(newCouplers.ma)})`;
}
