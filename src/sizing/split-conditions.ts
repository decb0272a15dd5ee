import type { Site } from '../site/site.js';
import type { SplitPlan } from './split-plan.js';

/** What a plan depends on, in words. */
export function splitConditions({ segment, pieces, above, beside }: SplitPlan, site: Site | null): string[] {
  const isAlone = beside !== null || pieces.some(({ isNew, coupler }) => !isNew && coupler !== null);
  const ofPieces = pieces.flatMap(({ conditions }) => conditions);
  return [
    'The individual addresses are proposals: nothing is renumbered here. A device that changes its line has to be given its new address, and loaded again together with the couplers.',
    'Where the cable is parted, and whether it can be along these groups, has to be looked at on site; each new line begins at its coupler, with a supply and a choke of its own.',
    ...(site === null ? [] : ['Voltages are not worked out for the new lines, as their cable is not known.']),
    ...(isAlone ? [`Line ${segment.line.address} needs a coupler too, as it is no longer alone.`] : []),
    ...(above.kind === 'IP' ? [`Line ${above.line} is IP, so the new couplers are IP couplers.`] : []),
    ...new Set(ofPieces),
  ];
}
