import type { Site } from '../site/site.js';
import type { SizingWords } from './sized.js';
import type { SplitPlan } from './split-plan.js';

/** What a plan depends on, in words. */
export function splitConditions(
  { segment, pieces, above, beside }: SplitPlan,
  site: Site | null,
  { sizing }: SizingWords,
): string[] {
  const texts = sizing.plan;
  const isAlone = beside !== null || pieces.some(({ isNew, coupler }) => !isNew && coupler !== null);
  const ofPieces = pieces.flatMap(({ conditions }) => conditions);
  return [
    texts.addresses,
    texts.onSite,
    ...(site === null ? [] : [texts.noVoltages]),
    ...(isAlone ? [texts.ownCoupler(segment.line.address)] : []),
    ...(above.kind === 'IP' ? [texts.aboveIp(above.line)] : []),
    ...new Set(ofPieces),
  ];
}
