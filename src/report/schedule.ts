import type { Segment, Supply } from '../plant/plant.js';
import { segmentLabel } from '../plant/plant.js';
import type { RuleContext } from '../rules/rule.js';
import type { Site } from '../site/site.js';
import type { Proposal } from '../sizing/proposal.js';
import type { Proposals } from '../sizing/proposals.js';
import { bought, present } from './choice.js';
import type { ReportUnit } from './proposal-shape.js';
import { SCHEDULE_STATES, type ScheduleRow } from './schedule-shape.js';

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
  { balances, project, installation, site }: RuleContext,
  { bySegment: proposals }: Proposals,
): ScheduleRow[] {
  const segments = balances.map(({ segment }) => segment);
  const removed = new Set([...proposals.values()].flatMap(({ choice }) => choice?.removed ?? []).map(idOf));
  const items = [...presentItems(segments, removed, site), ...boughtItems(new Set(proposals.values()), site)];
  const rows = new Map<string, Item[]>();
  for (const item of items) {
    const { ratedMa, kind, orderNumber, railUnits, price } = item.unit;
    const key = JSON.stringify([item.place, item.state, ratedMa, kind, orderNumber, railUnits, price]);
    rows.set(key, [...(rows.get(key) ?? []), item]);
  }
  const where = { project: project.id, installation: installation.number };
  return [...rows.values()].flatMap((alike) => rowOf(alike, where)).sort(inOrder);
}

function presentItems(segments: readonly Segment[], removed: ReadonlySet<string>, site: Site | null): Item[] {
  const fed = new Map<string, { readonly supply: Supply; readonly segments: Segment[] }>();
  for (const segment of segments) {
    for (const supply of segment.supplies) {
      const found = fed.get(idOf(supply));
      if (found === undefined) fed.set(idOf(supply), { supply, segments: [segment] });
      else found.segments.push(segment);
    }
  }
  return [...fed].map(([id, { supply, segments: of }]) => ({
    place: placeOf(supply, site) ?? areaOf(of),
    state: removed.has(id) ? 'remove' : 'existing',
    unit: present(supply),
    segments: of,
  }));
}

function boughtItems(proposals: ReadonlySet<Proposal>, site: Site | null): Item[] {
  return [...proposals].flatMap(({ choice, segments }) => {
    const added = choice?.added ?? [];
    const supplies = segments.flatMap((segment) => segment.supplies);
    const place = supplies.map((supply) => placeOf(supply, site)).find((found) => found !== null) ?? areaOf(segments);
    const state = (choice?.removed.length ?? 0) > 0 ? 'replacement' : 'new';
    return added.map((unit): Item => ({ place, state, unit: bought(unit, null), segments }));
  });
}

function idOf({ device }: Supply): string {
  return device.id;
}

function placeOf({ device }: Supply, site: Site | null): string | null {
  return site?.supplies.get(device.id)?.board ?? device.location;
}

function areaOf([segment]: readonly Segment[]): string {
  return `area ${segment?.line.areaAddress}`;
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
