import type { Segment } from '../plant/plant.js';
import { segmentLabel } from '../plant/plant.js';
import type { RuleContext } from '../rules/rule.js';
import type { Proposal } from '../sizing/proposal.js';
import type { NotScheduled } from './schedule-shape.js';

/**
 * The segments that draw power and for which nothing can be ordered as yet, with the reason: without them a schedule
 * that lacks their supplies would look whole. Segments that share a proposal are told of together.
 */
export function notScheduledOf(
  { project, installation }: Pick<RuleContext, 'project' | 'installation'>,
  proposals: ReadonlyMap<Segment, Proposal>,
): NotScheduled[] {
  return [...new Set(proposals.values())].filter(isOpen).map(({ action, because, segments }) => ({
    project: project.id,
    installation: installation.number,
    segments: segments.map(segmentLabel),
    action,
    because,
  }));
}

/** Whether supplies are wanted of which nobody can say which. */
function isOpen({ choice, segments }: Proposal): boolean {
  return choice === null && segments.some(({ medium, loads }) => medium.needsPower && loads.length > 0);
}
