import type { Segment } from '../../plant/plant.js';
import type { Layout, SegmentSite } from '../../site/site.js';
import type { ExpectedInput } from '../expected.js';

/** What differs from the plan in a supposed case. */
export interface Change {
  /** Ids of supplies that give nothing. */
  readonly out?: ReadonlySet<string>;
  /** By which every resistance of the segment's cable is greater. */
  readonly ohmFactor?: number;
  /** The run that is open, by its position. */
  readonly openRun?: number;
  /** Drawn on top of what is planned; point null: nobody knows where. */
  readonly extra?: { readonly point: number | null; readonly ua: number };
  /** Drawn from the supplies by what does not belong to them, µA. */
  readonly strangeUa?: number;
  /** Of what the segment draws, the share that is connected. */
  readonly share?: number;
  /** Nothing at this point is connected. */
  readonly offPoint?: number;
  /** Taken off for a measurement: what hangs at this point, or everything on the segment. */
  readonly unplugged?: number | 'everything';
  /** A resistance between the wires; point null: nobody knows where. */
  readonly short?: {
    readonly point: number | null;
    readonly ohm: number;
    /** Of the current measured at a supply, what it gives at most; see `short-limits.ts`. */
    readonly limitShare: number;
  };
}

/** A case, and what somebody does to the plant for a measurement. */
export function bothOf(change: Change, done: Change): Change {
  const out = new Set([...(change.out ?? []), ...(done.out ?? [])]);
  const both = { ...change, ...done, out };
  const { extra, unplugged } = both;
  const isOff = unplugged !== undefined && (unplugged === 'everything' || unplugged === extra?.point);
  if (!isOff) return both;
  const { extra: _, ...rest } = both;
  return rest;
}

/** The plan as it would be with the change, as far as it is a matter of the plant and its cable. */
export function changed(input: ExpectedInput, change: Change): ExpectedInput {
  const { out = new Set<string>() } = change;
  const isLeft = ({ device }: { device: { id: string } }) => !out.has(device.id);
  const own = (one: Segment): Segment => {
    const fed = { ...one, supplies: one.supplies.filter(isLeft) };
    return one.id === input.segment.id ? { ...fed, loads: loadsLeft(one, input.entry.layout, change) } : fed;
  };
  const all = input.group.segments.map(own);
  const segment = all.find(({ id }) => id === input.segment.id);
  if (segment === undefined) throw new Error('a segment is not in its own feed group');
  const entry = changedEntry(input.entry, change);
  return {
    segment,
    group: {
      segments: all.filter((one) => one === segment || one.supplies.length > 0),
      supplies: input.group.supplies.filter(isLeft),
    },
    site: { ...input.site, segments: new Map(input.site.segments).set(segment.id, entry) },
    entry,
    policy: input.policy,
  };
}

function loadsLeft(
  { loads }: Segment,
  layout: Layout | null,
  { share = 1, offPoint, unplugged }: Change,
): Segment['loads'] {
  if (unplugged === 'everything') return [];
  const off = new Set([offPoint, unplugged].filter((point) => point !== undefined));
  const left = off.size === 0 ? loads : loads.filter(({ device }) => !off.has(layout?.pointOf.get(device.id) ?? -1));
  if (share === 1) return left;
  return left.map((load) => ({ ...load, current: { ...load.current, ua: load.current.ua * share } }));
}

function changedEntry(entry: SegmentSite, { ohmFactor = 1, openRun }: Change): SegmentSite {
  if (ohmFactor === 1 && openRun === undefined) return entry;
  const { layout, farthestM, totalLengthM } = entry;
  if (layout === null) {
    const longer = (lengthM: number | null) => (lengthM === null ? null : lengthM * ohmFactor);
    return { ...entry, farthestM: longer(farthestM), totalLengthM: longer(totalLengthM) };
  }
  const left = layout.runs.filter((_, at) => at !== openRun);
  return { ...entry, layout: { ...layout, runs: left.map((run) => ({ ...run, ohm: run.ohm * ohmFactor })) } };
}

/**
 * Whether the change has a figure that makes the plan worse without end. Where nothing is left that the supplies and the
 * cable can carry, such a figure is refused: a collapsed bus shows anything, so the figure would explain everything. A
 * bus that has collapsed is the business of the short.
 */
export function isFitted({ extra, ohmFactor }: Change): boolean {
  return extra !== undefined || ohmFactor !== undefined;
}
