import type { RuleContext } from '../rules/rule.js';
import type { Proposals } from '../sizing/proposals.js';
import { type Item, itemsOf } from './schedule-items.js';
import { SCHEDULE_ITEMS, SCHEDULE_STATES, type ScheduleRow } from './schedule-shape.js';

/**
 * All supplies of an installation as they are to be, with those that go and the couplers of new lines: a row for each
 * sort at each place. A supply that feeds several segments counts once.
 */
export function scheduleOf(context: RuleContext, proposals: Proposals): ScheduleRow[] {
  const { project, installation } = context;
  const rows = new Map<string, Item[]>();
  for (const one of itemsOf(context, proposals)) {
    const { ratedMa, kind, orderNumber, railUnits, price } = one;
    const key = JSON.stringify([one.place, one.state, one.item, ratedMa, kind, orderNumber, railUnits, price]);
    const alike = rows.get(key);
    if (alike === undefined) rows.set(key, [one]);
    else alike.push(one);
  }
  const where = { project: project.id, installation: installation.number };
  return [...rows.values()].flatMap((alike) => rowOf(alike, where)).sort(inOrder);
}

function rowOf(alike: readonly Item[], where: Pick<ScheduleRow, 'project' | 'installation'>): ScheduleRow[] {
  const [first] = alike;
  if (first === undefined) return [];
  const { place, state, item, ratedMa, kind, orderNumber, railUnits, price } = first;
  const quantity = alike.length;
  return [
    {
      ...where,
      place,
      state,
      item,
      ratedMa,
      kind,
      orderNumber,
      quantity,
      railUnits: railUnits === null ? null : Math.round(railUnits * quantity * 1000) / 1000,
      price,
      sum: price === null ? null : (Math.round(price * 100) * quantity) / 100,
      segments: [...new Set(alike.flatMap(({ segments }) => segments))],
    },
  ];
}

/** By place, then what becomes of them, then rising; otherwise as the plant has them. */
function inOrder(a: ScheduleRow, b: ScheduleRow): number {
  if (a.place !== b.place) return a.place < b.place ? -1 : 1;
  return (
    SCHEDULE_STATES.indexOf(a.state) - SCHEDULE_STATES.indexOf(b.state) ||
    SCHEDULE_ITEMS.indexOf(a.item) - SCHEDULE_ITEMS.indexOf(b.item) ||
    (a.ratedMa ?? 0) - (b.ratedMa ?? 0)
  );
}
