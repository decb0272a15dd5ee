import { segmentLabel } from '../plant/plant.js';
import type { RuleContext } from '../rules/rule.js';
import type { Proposal } from '../sizing/proposal.js';
import type { Proposals } from '../sizing/proposals.js';
import type { NotScheduled } from './schedule-shape.js';

/**
 * The segments that draw power and for which nothing can be ordered as yet, with the reason: without them a schedule
 * that lacks their supplies would look whole. Segments that share a proposal are told of together.
 */
export function notScheduledOf(
  { project, installation, words }: Pick<RuleContext, 'project' | 'installation' | 'words'>,
  { bySegment, newMainLines }: Proposals,
): NotScheduled[] {
  const where = { project: project.id, installation: installation.number };
  const noSupply = words.sizing.nothing.mainLine;
  const lines = newMainLines.filter(({ choice }) => choice === null);
  const open = [...new Set(bySegment.values())].filter(isOpen).map(({ action, because, segments }) => ({
    ...where,
    segments: segments.map(segmentLabel),
    action,
    because,
  }));
  const ofLines = lines.map(
    ({ line }): NotScheduled => ({ ...where, segments: [line], action: 'none', because: noSupply }),
  );
  return [...open, ...ofLines];
}

/** Whether supplies are wanted of which nobody can say which. */
function isOpen({ choice, plan, segments }: Proposal): boolean {
  return (
    choice === null && plan === null && segments.some(({ medium, loads }) => medium.needsPower && loads.length > 0)
  );
}
