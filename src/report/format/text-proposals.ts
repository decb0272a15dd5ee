import { count, list, milliamps, volts } from '../../rules/words.js';
import type { ReportChoice, ReportProposal, ReportUnit } from '../proposal-shape.js';
import type { Report, ReportSegment } from '../report.js';
import { bullet } from './layout.js';

/** So many proposals are told of; the JSON report and the schedule have all. */
const MOST_TOLD = 20;

/** What to do about supplies, where anything is to be done: a proposal each, with the margin that it would leave. */
export function proposalsText({ segments }: Pick<Report, 'segments'>): string {
  const labels = new Map(segments.map(({ id, label }) => [id, label]));
  const proposals = changesOf(segments);
  if (proposals.length === 0) return '';
  const told = proposals.slice(0, MOST_TOLD).flatMap((segment) => proposalLines(segment, labels));
  const rest = proposals.length - MOST_TOLD;
  return [
    `Proposals: ${count(proposals.length, 'change')} to the supplies`,
    ...told,
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

function proposalLines({ label, proposal }: ReportSegment, labels: ReadonlyMap<string, string>): string[] {
  const { action, because, choice, others, conditions } = proposal;
  const names = list([label, ...proposal.with.map((id) => labels.get(id) ?? id)]);
  const where = `${proposal.with.length === 0 ? 'Line' : 'Lines'} ${names}`;
  if (choice === null) return [bullet('  -', `${where}: ${action}, as ${because}.`)];
  return [
    bullet('  -', `${where}: ${choiceText(choice)}; ${marginText(choice, proposal)}.`),
    ...others.map((other) => bullet('    Or:', `${choiceText(other)}; ${marginText(other, proposal)}.`)),
    ...conditions.map((condition) => bullet('    Mind:', condition)),
  ];
}

/** `keep Supply 320 mA, add 640 mA (plain, PS-640)`. */
function choiceText({ kept, removed, added }: ReportChoice): string {
  const parts = [
    ...(kept.length === 0 ? [] : [`keep ${list(kept.map(presentText))}`]),
    ...(removed.length === 0 ? [] : [`remove ${list(removed.map(presentText))}`]),
    ...(added.length === 0
      ? []
      : [`${kept.length + removed.length === 0 ? 'order' : 'add'} ${list(added.map(boughtText))}`]),
  ];
  return parts.join(', ');
}

function presentText({ name, ratedMa }: ReportUnit): string {
  return `${name} ${ratedMa === null ? '(not rated)' : milliamps(ratedMa)}`;
}

function boughtText({ ratedMa, kind, orderNumber, at }: ReportUnit): string {
  const which = [kind, ...(orderNumber === null ? [] : [orderNumber]), ...(at === null ? [] : [`at ${at}`])];
  return `${milliamps(ratedMa ?? 0)} (${which.join(', ')})`;
}

function marginText({ marginMa, targetMa, price, lowest }: ReportChoice, { plannedMa }: ReportProposal): string {
  const planned = plannedMa === 0 ? '' : ` with ${milliamps(plannedMa)} planned`;
  const cost = price === null || price === 0 ? '' : `, price ${price}`;
  const voltage = lowest?.leastV == null ? '' : `, at least ${volts(lowest.leastV)} at every device`;
  return `${milliamps(marginMa)} left to the target of ${milliamps(targetMa)}${planned}${voltage}${cost}`;
}
