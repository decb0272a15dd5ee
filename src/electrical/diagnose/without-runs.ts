import { sum } from '../../units.js';
import type { ExpectedInput } from '../expected.js';
import { byLength } from '../voltage/by-length.js';
import { knownLengthOf } from '../voltage/known-length.js';
import { voltageOf } from '../voltage/lowest.js';
import { terminalsOf } from '../voltage/sources.js';
import { type Change, isFitted } from './change.js';
import { exactly, highestOf, type Range } from './range.js';
import { atLimit, beyondLimit, limitsMa, shareOf, wholeMa } from './shares.js';
import type { Target } from './target.js';

/**
 * A case of a segment whose runs nobody has drawn: currents as sums, voltages within what a length alone proves. What is
 * drawn on top may be anywhere, so it widens the voltages down to nothing; a short likewise.
 */
export function withoutRuns(plan: ExpectedInput, change: Change): (target: Target) => Range | null {
  const limits = limitsMa(plan);
  const whole = wholeMa(plan, change);
  const isCollapsed = change.short !== undefined || whole > sum(limits);
  if (whole > sum(limits) && isFitted(change)) return () => null;
  const current = (id: string): Range | null => {
    const own = plan.group.supplies.findIndex(({ device }) => device.id === id);
    if (own < 0) return exactly(0);
    return isCollapsed ? atLimit(limits[own] ?? Number.POSITIVE_INFINITY) : shareOf(whole, own, limits);
  };
  const collapsed = { low: 0, high: plan.policy.hardDeviceV };
  return (target) => {
    switch (target.kind) {
      case 'current':
        return current(target.supply);
      case 'voltage':
        return null;
      case 'lowest':
        return isCollapsed ? collapsed : lowest(plan, change);
      case 'highest':
        return isCollapsed ? collapsed : atSupplies(plan);
      case 'beyond limit':
        return beyondLimit(plan, current);
    }
  };
}

function lowest(plan: ExpectedInput, { extra }: Change): Range | null {
  const { segment, group, site, policy, entry } = plan;
  const known = knownLengthOf(entry, policy);
  if (known === null || segment.loads.length === 0) return null;
  const { unfavourable, favourable } = byLength(segment, { group, site, policy, of: 'typical', known });
  const low = unfavourable === null || extra !== undefined ? 0 : (voltageOf(unfavourable) ?? 0);
  return { low, high: voltageOf(favourable) ?? policy.hardDeviceV };
}

/** Cable takes voltage away and adds none, so the highest voltage is at a supply. */
function atSupplies({ segment, site, policy }: ExpectedInput): Range {
  return highestOf(segment.supplies.map((supply) => exactly(terminalsOf(supply, 'typical', site, policy).emfV)));
}
