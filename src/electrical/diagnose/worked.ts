import type { ExpectedInput } from '../expected.js';
import { alongRuns } from './along-runs.js';
import { type Change, changed } from './change.js';
import { exactly, type Range } from './range.js';
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
  return isLaid(input) ? alongRuns(plan, change) : withoutRuns(plan, change);
}

/** The runs are known, and where the supplies sit. */
export function isLaid({ segment, entry: { layout } }: ExpectedInput): boolean {
  return layout !== null && segment.supplies.every(({ device }) => layout.pointOf.has(device.id));
}
