import type { ExpectedInput } from '../expected.js';
import { alongRuns } from './along-runs.js';
import { type Change, changed } from './change.js';
import { exactly, hull, type Range } from './range.js';
import { beyondLimit } from './shares.js';
import { limitedTo, shortLimits } from './short-limits.js';
import type { Target } from './target.js';
import { withoutRuns } from './without-runs.js';

/** A supposed case, worked out: what each target would show; null where the sheet does not allow to say. */
export type Worked = (target: Target) => Range | null;

/** Works out what a meter would show if the change were the case. Terminal voltages are the typical ones. */
export function workedOut(input: ExpectedInput, change: Change): Worked {
  const plan = changed(input, change);
  if (plan.segment.supplies.length === 0) {
    return ({ kind }) => (kind === 'beyond limit' ? null : exactly(0));
  }
  const work = isLaid(input) ? alongRuns : withoutRuns;
  return change.short === undefined ? work(plan, change) : intoShort(plan, change, work);
}

/** The more the supplies give into a short, the higher all currents and voltages: so both ends bound what is between. */
function intoShort(plan: ExpectedInput, change: Change, work: typeof alongRuns): Worked {
  const limits = shortLimits(plan, change.short?.limitShare ?? 1);
  const least = work(limitedTo(plan, limits, 'low'), change);
  const isKnown = [...limits.values()].every(({ low, high }) => low === high);
  const greatest = isKnown ? least : work(limitedTo(plan, limits, 'high'), change);
  const between: Worked = (target) => {
    const [low, high] = [least(target), greatest(target)];
    return low && high && hull(low, high);
  };
  return (target) => {
    if (target.kind !== 'beyond limit') return between(target);
    return beyondLimit(plan, (supply) => between({ kind: 'current', supply }));
  };
}

/** The runs are known, and where the supplies sit. */
export function isLaid({ segment, entry: { layout } }: ExpectedInput): boolean {
  return layout !== null && segment.supplies.every(({ device }) => layout.pointOf.has(device.id));
}
