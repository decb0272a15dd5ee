import type { InputPlace } from '../errors.js';
import type { ProductOverride } from '../policy/overrides.js';
import { sum } from '../units.js';

/**
 * The plant: areas, lines, electrical segments, what is charged to each and what feeds it. Every current carries its
 * origin. Currents in whole µA.
 */

/** Where a current is from. */
export type Origin = 'declared' | 'overridden' | 'assumed';

/** Why a current had to be assumed. */
export type AssumedBecause =
  | 'not declared'
  | 'negative'
  | 'unreadable'
  | 'product not in the archive'
  | 'upper side of a combined supply and coupler';

export interface Current {
  readonly ua: number;
  readonly origin: Origin;
  readonly because?: AssumedBecause;
}

export interface Product {
  readonly id: string;
  readonly name: string;
  readonly orderNumber: string | null;
  readonly manufacturer: string;
  /** `BusCurrent` as written, null if not declared. */
  readonly declared: string | null;
  /** Where the archive describes it. */
  readonly place: InputPlace;
}

/** What a device is to the power of the bus. */
export type Role =
  | 'consumer'
  | 'coupler'
  | 'repeater'
  | 'supply'
  | 'supply and coupler'
  | 'choke'
  | 'accessory'
  | 'cable'
  | 'passive part';

export interface Device {
  readonly id: string;
  /** area.line.device, null if no individual address is assigned. */
  readonly address: string | null;
  readonly name: string;
  /** Null if the archive does not hold the product; {@link productRef} tells what was looked for. */
  readonly product: Product | null;
  readonly productRef: string | null;
  readonly role: Role;
  /** What a coupler joins to the segment that it stands on; null for everything else. */
  readonly joins: 'line above' | 'other segment' | null;
  readonly isIpEnabled: boolean;
  /** Whether it takes part on the bus and so draws from it: no supply, accessory, cable or passive part. */
  readonly participates: boolean;
  /** Places from the outermost to the innermost, null if the archive puts the device nowhere. */
  readonly location: string | null;
  /** Further addresses that the device takes on its line, area.line.device. */
  readonly additionalAddresses: readonly string[];
  /** What the policy says of its product. */
  readonly override: ProductOverride | null;
  /** Whether the archive marks it as loaded, so that it has been on the bus; null if it does not say. */
  readonly isLoaded: boolean | null;
  /** Line of the installation's part. */
  readonly sourceLine: number;
}

/** Why a device is charged to a segment. */
export type ChargedAs = 'participant' | 'coupler from below' | 'bridge';

/** One item of the load of a segment. A coupler is an item on each of its sides. */
export interface Load {
  readonly device: Device;
  readonly chargedAs: ChargedAs;
  readonly current: Current;
}

export interface Supply {
  readonly device: Device;
  /** Null if the product declares none. */
  readonly ratingUa: number | null;
  /** Takes part on the bus and reports its state. */
  readonly isReporting: boolean;
}

export interface Medium {
  readonly id: string;
  readonly name: string;
  /** Who said so: the segment, its line, or nobody (twisted pair is taken). */
  readonly from: 'segment' | 'line' | 'nobody';
  readonly needsPower: boolean;
  /** False for a medium that this service has no facts about; it is judged as twisted pair. */
  readonly isKnown: boolean;
}

export const FEEDS = ['own', 'stated', 'unknown'] as const;

/** From whom it is known which supplies feed a segment. */
export type Feed = (typeof FEEDS)[number];

/** The smallest thing that a supply feeds: galvanically one piece of bus. */
export interface Segment {
  readonly id: string;
  readonly number: number;
  readonly name: string | null;
  readonly line: Line;
  readonly medium: Medium;
  /** False where the export does not say which of several electrical segments a device is on. */
  readonly boundariesKnown: boolean;
  /** Everything that stands here. */
  readonly devices: readonly Device[];
  /** What is charged here; nothing where the medium carries no power. */
  readonly loads: readonly Load[];
  /** What feeds it: what stands here, or, once a site sheet says so, what that names, wherever it stands. */
  readonly supplies: readonly Supply[];
  /**
   * Whether {@link supplies} are those that stand here, or those that a site sheet states; unknown where it states one
   * that is gone: then there are none in the list.
   */
  readonly feed: Feed;
  readonly chokes: readonly Device[];
  /** Line of the installation's part. */
  readonly sourceLine: number;
}

export interface Line {
  readonly id: string;
  /** area.line */
  readonly address: string;
  readonly areaAddress: number;
  readonly lineAddress: number;
  readonly name: string | null;
  readonly segments: readonly Segment[];
  /** Line of the installation's part. */
  readonly sourceLine: number;
}

/** A coupler whose line above cannot be charged, because the archive has no such line. */
export interface UnchargedCoupler {
  readonly device: Device;
  readonly lineAbove: string;
}

export interface Installation {
  readonly number: number;
  readonly name: string | null;
  /** The archive's part that it was read from. */
  readonly part: string;
  readonly lines: readonly Line[];
  readonly unplaced: readonly Device[];
  readonly unchargedCouplers: readonly UnchargedCoupler[];
}

export interface Project {
  readonly id: string;
  readonly name: string | null;
  /** Null where there is no export. */
  readonly schema: number | null;
  readonly schemaKnown: boolean;
  readonly installations: readonly Installation[];
}

/** All segments of an installation, in the order of the document. */
export function segmentsOf(installation: Installation): Segment[] {
  return installation.lines.flatMap(({ segments }) => segments);
}

/** What a person calls a segment: the line's address, with the segment's number where the line has several. */
export function segmentLabel(segment: Segment): string {
  const { line, number } = segment;
  if (isBesideSegments(segment)) return `${line.address} beside its segments`;
  return line.segments.length > 1 ? `${line.address} segment ${number}` : line.address;
}

/** What stands on a line that has several segments, without being on one of them: some segment's, nobody knows which. */
export function isBesideSegments({ id, line }: Pick<Segment, 'id' | 'line'>): boolean {
  return id === line.id && line.segments.length > 1;
}

/**
 * How many supplies and chokes may feed a segment: its own, and those beside the segments; to these, all of the line. A
 * feed that is not known is one.
 */
export function possibleFeeds(segment: Segment): number {
  const { line } = segment;
  const last = line.segments.at(-1); // where anything stands beside the segments, it is the last of the line
  const beside = last !== undefined && isBesideSegments(last) ? [last] : [];
  const sources = isBesideSegments(segment) ? line.segments : [segment, ...beside];
  return sum(
    sources.map(({ supplies, chokes, feed }) => supplies.length + chokes.length + (feed === 'unknown' ? 1 : 0)),
  );
}

/** What a person calls a device: its address, else its name, else its id. */
export function deviceLabel({ address, name, id }: Pick<Device, 'address' | 'name' | 'id'>): string {
  return [address, name].filter((text) => text !== null && text !== '').join(' ') || id;
}
