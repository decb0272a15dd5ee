import { EN } from '../../words/en/words.js';
import type { Words } from '../../words/words.js';
import type { Report, ReportSegment } from '../report.js';
import { bullet } from './layout.js';
import { choiceText } from './text-choice.js';
import { movesText } from './text-moves.js';
import { mainLineText, splitText } from './text-split.js';

/** So many proposals are told of; the JSON report and the schedule have all. */
const MOST_TOLD = 20;

/** What to do about supplies, where anything is to be done: a proposal each, with the margin that it would leave. */
export function proposalsText(
  { segments, newMainLines }: Pick<Report, 'segments' | 'newMainLines'>,
  words: Words = EN,
): string {
  const labels = new Map(segments.map(({ id, label }) => [id, label]));
  const proposals = changesOf(segments);
  if (proposals.length === 0) return '';
  const told = proposals.slice(0, MOST_TOLD).flatMap((segment) => proposalLines(segment, labels, words));
  const rest = proposals.length - MOST_TOLD;
  return [
    words.proposals.title(proposals.length),
    ...told,
    ...newMainLines.map((line) => mainLineText(line, words)),
    ...(rest > 0 ? [`  - ${words.report.findings.cut({ shown: MOST_TOLD, total: proposals.length })}`] : []),
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

function proposalLines(segment: ReportSegment, labels: ReadonlyMap<string, string>, words: Words): string[] {
  const { label, proposal } = segment;
  const { action, because, newCouplers, choice, others, plan, conditions } = proposal;
  const texts = words.proposals;
  const where = texts.lines([label, ...proposal.with.map((id) => labels.get(id) ?? id)]);
  const moves = movesText(segment, labels, words);
  if (plan !== null) return [...splitText(where, proposal, plan, words), ...moves];
  if (choice === null) return [bullet('  -', texts.nothing({ where, action, because })), ...moves];
  const { count, ma } = newCouplers;
  // Why a line has more load in its proposal than in its balance.
  const loaded = count === 0 ? where : texts.withCouplers({ where, couplers: count, ma });
  return [
    bullet('  -', `${loaded}: ${choiceText(choice, proposal, words)}.`),
    ...others.map((other) => bullet(`    ${texts.or}`, `${choiceText(other, proposal, words)}.`)),
    ...conditions.map((condition) => bullet(`    ${texts.mind}`, condition)),
    ...moves,
  ];
}
