import type { Segment, Supply } from '../plant/plant.js';
import { segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { RuleContext } from '../rules/rule.js';
import type { Site } from '../site/site.js';
import type { Proposal } from '../sizing/proposal.js';
import { bought, present } from './proposal.js';
import type { ReportUnit } from './proposal-shape.js';
import { SCHEDULE_STATES, type ScheduleRow } from './schedule-shape.js';
import { boughtPlace, presentPlace } from './supply-place.js';

/** One supply, and what becomes of it. */
interface Item {
  readonly place: string;
  readonly state: ScheduleRow['state'];
  readonly unit: ReportUnit;
  readonly segments: readonly Segment[];
}

/**
 * All supplies of an installation as they are to be, with those that go: a row for each sort at each place. A supply
 * that feeds several segments counts once.
 */
export function scheduleOf(
  { balances, project, installation, site, policy }: RuleContext,
  proposals: ReadonlyMap<Segment, Proposal>,
): ScheduleRow[] {
  const segments = balances.map(({ segment }) => segment);
  const removed = new Set([...proposals.values()].flatMap(({ choice }) => choice?.removed ?? []).map(idOf));
  const items = [...presentItems(segments, removed, site, policy), ...boughtItems(new Set(proposals.values()), site)];
  const rows = new Map<string, Item[]>();
  for (const item of items) {
    const { ratedMa, kind, orderNumber, railUnits, price } = item.unit;
    const key = JSON.stringify([item.place, item.state, ratedMa, kind, orderNumber, railUnits, price]);
    rows.set(key, [...(rows.get(key) ?? []), item]);
  }
  const where = { project: project.id, installation: installation.number };
  return [...rows.values()].flatMap((alike) => rowOf(alike, where)).sort(inOrder);
}

function presentItems(
  segments: readonly Segment[],
  removed: ReadonlySet<string>,
  site: Site | null,
  policy: Policy,
): Item[] {
  const fed = new Map<string, { readonly supply: Supply; readonly segments: Segment[] }>();
  for (const segment of segments) {
    for (const supply of segment.supplies) {
      const found = fed.get(idOf(supply));
      if (found === undefined) fed.set(idOf(supply), { supply, segments: [segment] });
      else found.segments.push(segment);
    }
  }
  return [...fed].map(([id, { supply, segments: of }]) => ({
    place: presentPlace(supply, of, site),
    state: removed.has(id) ? 'remove' : 'existing',
    unit: { ...present(supply), railUnits: widthInStock(supply, policy) },
    segments: of,
  }));
}

function boughtItems(proposals: ReadonlySet<Proposal>, site: Site | null): Item[] {
  return [...proposals].flatMap(({ choice, segments }) => {
    const added = choice?.added ?? [];
    const place = boughtPlace(segments, site);
    const state = (choice?.removed.length ?? 0) > 0 ? 'replacement' : 'new';
    return added.map((unit): Item => ({ place, state, unit: bought(unit, null), segments }));
  });
}

function idOf({ device }: Supply): string {
  return device.id;
}

/** Of a supply that is there, where it may be ordered as well; null too where the stock is of two minds. */
function widthInStock({ device }: Supply, { stock }: Policy): number | null {
  const number = device.product?.orderNumber ?? null;
  const same = stock.filter(({ orderNumber }) => orderNumber !== undefined && orderNumber === number);
  const [width, ...others] = new Set(same.flatMap(({ railUnits }) => railUnits ?? []));
  return others.length > 0 ? null : (width ?? null);
}

function rowOf(alike: readonly Item[], where: Pick<ScheduleRow, 'project' | 'installation'>): ScheduleRow[] {
  const [first] = alike;
  if (first === undefined) return [];
  const { place, state, unit } = first;
  const { ratedMa, kind, orderNumber, railUnits, price } = unit;
  const quantity = alike.length;
  return [
    {
      ...where,
      place,
      state,
      ratedMa,
      kind,
      orderNumber,
      quantity,
      railUnits: railUnits === null ? null : Math.round(railUnits * quantity * 1000) / 1000,
      price,
      sum: price === null ? null : (Math.round(price * 100) * quantity) / 100,
      segments: [...new Set(alike.flatMap(({ segments }) => segments.map(segmentLabel)))],
    },
  ];
}

/** By place, then what becomes of them, then rising; otherwise as the plant has them. */
function inOrder(a: ScheduleRow, b: ScheduleRow): number {
  if (a.place !== b.place) return a.place < b.place ? -1 : 1;
  return SCHEDULE_STATES.indexOf(a.state) - SCHEDULE_STATES.indexOf(b.state) || (a.ratedMa ?? 0) - (b.ratedMa ?? 0);
}
