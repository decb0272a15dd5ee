import { deviceLabel, type Segment, type Supply } from '../plant/plant.js';
import type { Layout, SegmentSite } from '../site/site.js';
import { sum } from '../units.js';
import { deadEnds } from './cable.js';
import { type ConnectedBy, connectedGroup, connectedOn } from './connected.js';
import { loadSum } from './load.js';
import { solveNetwork } from './network/solve.js';
import { GREATEST_SUPPLY_V } from './standard.js';
import { drawsOf } from './voltage/draw.js';
import { frameOf, networkOf, supplyNodeOf } from './voltage/frame.js';
import { terminalsOf } from './voltage/sources.js';
import { type VoltageInput, type Voltages, voltagesOf } from './voltage/voltage.js';

/** A current to be met at a supply, or at all supplies of a segment together. */
export interface ExpectedCurrent {
  /** Ids of the supplies' devices. */
  readonly supplies: readonly string[];
  /** What people call them. */
  readonly labels: readonly string[];
  /** Null where only bounds are known. */
  readonly ua: number | null;
  readonly lowUa: number;
  readonly highUa: number;
}

/** A voltage to be met at a point of the cable. */
export interface ExpectedVoltage {
  /** Position in the layout; null for the far end, where the runs are not known. */
  readonly point: number | null;
  /** Null where only bounds are known. */
  readonly v: number | null;
  /** Never below what a device needs as installed. */
  readonly lowV: number;
  /** Null where nothing is known of the cable. */
  readonly highV: number | null;
}

/** What a meter should show on a segment. */
export interface Expected {
  /** How it is known which devices are connected. */
  readonly connectedBy: ConnectedBy;
  readonly currents: readonly ExpectedCurrent[];
  readonly voltages: readonly ExpectedVoltage[];
}

export type ExpectedInput = VoltageInput;

/**
 * What is to be measured on a segment as it is connected today: the current of each supply, and the voltage at the ends
 * of its cable and wherever one was measured. Tolerances are the policy's; where nobody knows the terminal voltage of a
 * supply it may be anything from the least to the greatest of the standard.
 * @param voltages of the segment with all that hangs on it, which are not worked out again where all is connected
 * @returns null where no supply feeds the segment, or nothing hangs on it
 */
export function expectedOn(input: ExpectedInput, voltages: Voltages | null): Expected | null {
  const { segment, site, policy } = input;
  if (segment.supplies.length === 0 || segment.loads.length === 0) return null;
  const connected = connectedInput(input);
  return {
    connectedBy: connectedOn(segment, site).by,
    currents: deliveredBy(connected).map(({ supplies, leastUa, mostUa }) => ({
      supplies: supplies.map(({ device }) => device.id),
      labels: supplies.map(({ device }) => deviceLabel(device)),
      ua: leastUa === mostUa ? leastUa : null,
      lowUa: Math.floor(leastUa * (1 - policy.measuredShare)),
      highUa: Math.ceil(mostUa * (1 + policy.measuredShare)),
    })),
    voltages: expectedVoltages(connected, isWhole(connected, input) ? voltages : voltagesOf(connected)),
  };
}

/** The same segment and group with only what is connected. */
export function connectedInput({ segment, group, ...rest }: ExpectedInput): ExpectedInput {
  const reduced = connectedGroup(group, rest.site);
  const own = reduced.segments.find(({ id }) => id === segment.id);
  if (own === undefined) throw new Error('a segment is not in its own feed group');
  return { segment: own, group: reduced, ...rest };
}

/** What some supplies deliver together, between bounds. */
interface Delivered {
  readonly supplies: readonly Supply[];
  readonly leastUa: number;
  readonly mostUa: number;
}

/**
 * What each supply of the segment delivers. Where the network does not tell its share it is bounded: below by what hangs
 * on no other supply, above by all that it feeds; and all of them together are exact.
 */
function deliveredBy(input: ExpectedInput): Delivered[] {
  const { segment, group } = input;
  const shares = sharesOf(input);
  if (shares !== null) return shares;
  const singly = segment.supplies.map((supply) => boundedShare(supply, input));
  const isOpen = singly.some(({ leastUa, mostUa }) => leastUa < mostUa);
  const wholeUa = sum(group.segments.map((one) => totalOf(one, input)));
  const together = { supplies: segment.supplies, leastUa: wholeUa, mostUa: wholeUa };
  return isOpen && group.supplies.length === segment.supplies.length ? [together, ...singly] : singly;
}

function boundedShare(supply: Supply, input: ExpectedInput): Delivered {
  const fed = input.group.segments.filter(({ supplies }) =>
    supplies.some(({ device }) => device.id === supply.device.id),
  );
  const own = fed.filter(({ supplies }) => supplies.length === 1);
  const total = (segments: readonly Segment[]) => sum(segments.map((one) => totalOf(one, input)));
  return { supplies: [supply], leastUa: total(own), mostUa: total(fed) };
}

function totalOf({ id, loads }: Segment, { site }: ExpectedInput): number {
  return loadSum(loads, site.segments.get(id)?.auxiliaryUa ?? 0).totalUa;
}

/** By the network, where it is known with all that hangs on it; null where it is not, or the load alone tells. */
function sharesOf(input: ExpectedInput): Delivered[] | null {
  const { segment, group, site, policy } = input;
  if (group.supplies.length === 1 && policy.deviceModel === 'constant current') return null;
  const frame = frameOf(group, site, policy);
  if (!group.segments.every((one) => isAllPlaced(one, frame.laid.get(one)?.layout))) return null;
  const solution = solveNetwork(networkOf(frame, segment, 'typical', () => [[supplyNodeOf(frame, segment), 1]]));
  if (solution.outcome === 'unsolvable') return null;
  const feeding = new Set(segment.supplies.map(({ device }) => device.id));
  return group.supplies.flatMap((supply, at) => {
    if (!feeding.has(supply.device.id)) return [];
    const ua = Math.round((solution.sourceAmps[at] ?? 0) * 1e6);
    return { supplies: [supply], leastUa: ua, mostUa: ua };
  });
}

function isAllPlaced(segment: Segment, layout: Layout | undefined): boolean {
  return layout !== undefined && drawsOf(segment, layout.pointOf).every(({ point }) => point !== null);
}

/** Nothing of the group is left out. */
function isWhole(connected: ExpectedInput, { group }: ExpectedInput): boolean {
  return connected.group.segments.every((one, at) => one === group.segments[at]);
}

function expectedVoltages(input: ExpectedInput, voltages: Voltages | null): ExpectedVoltage[] {
  const { entry, policy, segment } = input;
  const aboveV = greatestAbove(input);
  return pointsToMeasure(entry, segment).map((point) => {
    const { typical, least } = bandsAt(voltages, point);
    const isExact = typical.lowV !== null && typical.lowV === typical.highV;
    return {
      point,
      v: isExact ? typical.highV : null,
      lowV: Math.max(policy.leastDeviceV, (least.lowV ?? 0) - policy.measuredV),
      highV: typical.highV === null ? null : typical.highV + aboveV + policy.measuredV,
    };
  });
}

/** How much the supply may be above its typical voltage: nothing where the sheet says what it is. */
function greatestAbove({ segment, site, policy }: ExpectedInput): number {
  const isStated = segment.supplies.every(({ device }) => typeof site.supplies.get(device.id)?.terminalV === 'number');
  if (isStated) return 0;
  const typical = segment.supplies.map((supply) => terminalsOf(supply, 'typical', site, policy).emfV);
  return Math.max(0, GREATEST_SUPPLY_V - Math.max(...typical));
}

function bandsAt(voltages: Voltages | null, point: number | null) {
  const points = voltages?.profile.points ?? [];
  const at = point === null || voltages?.basis === 'length only' ? points.at(-1) : points[point];
  const nothing = { lowV: null, highV: null };
  return at?.bands ?? { typical: nothing, least: nothing };
}

/** Ends of the cable where no supply sits, and where the sheet has a measured voltage. */
function pointsToMeasure({ layout, measured }: SegmentSite, { supplies }: Segment): (number | null)[] {
  if (layout === null) return [null];
  const supplied = new Set(supplies.flatMap(({ device }) => layout.pointOf.get(device.id) ?? []));
  const ends = deadEnds(layout).filter((point) => !supplied.has(point));
  const points = new Set([...ends, ...(measured?.voltages ?? []).flatMap(({ point }) => point ?? [])]);
  return [...points].sort((a, b) => a - b);
}
