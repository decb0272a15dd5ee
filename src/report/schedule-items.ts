import { type Segment, type Supply, segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { RuleContext } from '../rules/rule.js';
import type { Site } from '../site/site.js';
import type { Choice } from '../sizing/choice.js';
import type { Proposal } from '../sizing/proposal.js';
import type { Proposals } from '../sizing/proposals.js';
import type { NewCoupler, NewMainLine, Piece, SplitPlan } from '../sizing/split-plan.js';
import { bought, present } from './choice.js';
import type { ReportUnit } from './proposal-shape.js';
import type { ScheduleRow } from './schedule-shape.js';
import { boughtPlace, mostAt, presentPlace } from './supply-place.js';

/** One supply or coupler, and what becomes of it. */
export interface Item
  extends Pick<
    ScheduleRow,
    'place' | 'state' | 'item' | 'ratedMa' | 'kind' | 'orderNumber' | 'railUnits' | 'price' | 'segments'
  > {}

/** Everything that the schedule counts, one by one. */
export function itemsOf({ balances, site, policy }: RuleContext, { bySegment, newMainLines }: Proposals): Item[] {
  const proposals = [...new Set(bySegment.values())];
  const segments = balances.map(({ segment }) => segment);
  const removed = new Set(proposals.flatMap(removedBy).map(idOf));
  return [
    ...presentItems(segments, removed, site, policy),
    ...proposals.flatMap((proposal) => boughtItems(proposal, site)),
    ...newMainLines.flatMap((line) => mainLineItems(line)),
  ];
}

function removedBy({ choice, plan }: Proposal): Supply[] {
  const choices: (Choice | null)[] = [choice, ...(plan?.pieces ?? []).map((piece) => piece.choice)];
  return choices.flatMap((one) => one?.removed ?? []);
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
    item: 'supply',
    ...figuresOf(present(supply)),
    railUnits: widthInStock(supply, policy),
    segments: of.map(segmentLabel),
  }));
}

function boughtItems({ choice, plan, segments }: Proposal, site: Site | null): Item[] {
  const labels = segments.map(segmentLabel);
  return [
    ...(choice === null ? [] : supplyItems(choice, boughtPlace(segments, site), labels)),
    ...(plan === null ? [] : planItems(plan, site)),
  ];
}

function planItems({ segment, pieces, beside }: SplitPlan, site: Site | null): Item[] {
  const own = boughtPlace([segment], site);
  return [
    ...pieces.flatMap((piece) => pieceItems(piece, own, site)),
    ...(beside === null
      ? []
      : [couplerItem(beside.coupler, boughtPlace([beside.segment], site), [segmentLabel(beside.segment)])]),
  ];
}

/** A new line begins where most of its devices are. @param own where supplies of the segment that is split are bought for */
function pieceItems({ line, segment, choice, coupler, devices }: Piece, own: string, site: Site | null): Item[] {
  const here = devices.map(({ device }) => device);
  const place = segment === null ? (mostAt(here, site) ?? own) : boughtPlace([segment], site, here);
  const labels = [segment === null ? line : segmentLabel(segment)];
  return [...supplyItems(choice, place, labels), ...(coupler === null ? [] : [couplerItem(coupler, place, labels)])];
}

function mainLineItems({ line, choice }: NewMainLine): Item[] {
  return choice === null ? [] : supplyItems(choice, `area ${line.split('.')[0]}`, [line]);
}

function supplyItems({ removed, added }: Choice, place: string, segments: string[]): Item[] {
  const state = removed.length > 0 ? 'replacement' : 'new';
  return added.map((unit) => ({ place, state, item: 'supply', ...figuresOf(bought(unit, null)), segments }));
}

/** What a coupler costs, and how wide it is, no policy says. */
function couplerItem({ like }: NewCoupler, place: string, segments: string[]): Item {
  const orderNumber = like?.product?.orderNumber ?? null;
  const unknown = { ratedMa: null, kind: null, railUnits: null, price: null };
  return { place, state: 'new', item: 'coupler', orderNumber, ...unknown, segments };
}

function figuresOf({ ratedMa, kind, orderNumber, railUnits, price }: ReportUnit) {
  return { ratedMa, kind, orderNumber, railUnits, price };
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
