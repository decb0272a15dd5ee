import type { Device, Segment } from '../plant/plant.js';
import type { FittingChoice, ProposedAction } from './choice.js';
import type { Split } from './split/problem.js';

/** A segment split into itself and new lines below the line above it. */
export interface SplitPlan extends Pick<Split, 'torn' | 'method' | 'lowerBound' | 'proved' | 'gap'> {
  /** That is split. */
  readonly segment: Segment;
  /** What stays where it is first, then the new lines by address. */
  readonly pieces: readonly Piece[];
  readonly above: LineAbove;
  /** The coupler that the segment's line needs, where that stands on another of its segments; null where it does not. */
  readonly beside: CouplerBeside | null;
}

/** A coupler that is bought for a segment that is not split itself. */
export interface CouplerBeside {
  readonly segment: Segment;
  readonly coupler: NewCoupler;
}

/** One of the segments that a split leaves. */
export interface Piece {
  /** area.line */
  readonly line: string;
  /** What stays of it; null for a new line. */
  readonly segment: Segment | null;
  readonly isNew: boolean;
  /** Those that can be moved; what cannot is on the first piece and counted in its figures. */
  readonly devices: readonly PlacedDevice[];
  /** That has to be bought for it. */
  readonly coupler: NewCoupler | null;
  /** With its coupler and all that cannot be moved, µA. */
  readonly loadUa: number;
  readonly plannedUa: number;
  /** Devices that it has to bear, its coupler among them. */
  readonly places: number;
  readonly action: ProposedAction;
  readonly choice: FittingChoice;
  /** What the choice depends on, in words. */
  readonly conditions: readonly string[];
}

/** A device, and the addresses that it could have; nothing is renumbered by this service. */
export interface PlacedDevice {
  readonly device: Device;
  /** area.line.device; null where it has none now, or its number is taken on the new line. */
  readonly address: string | null;
  readonly additionalAddresses: readonly string[];
}

/** A coupler to be bought. */
export interface NewCoupler {
  /** What it draws of its own line, and of the line above, µA. */
  readonly lowerUa: number;
  readonly upperUa: number;
  readonly isIpEnabled: boolean;
  /** The coupler of the installation that its currents are those of; null: the rule of thumb. */
  readonly like: Device | null;
}

/** The line that the new couplers hang on as well. */
export interface LineAbove {
  /** area.line */
  readonly line: string;
  readonly kind: 'present' | 'new' | 'IP';
  /** The segment that couplers reach; null where it is new, or a network. */
  readonly segment: Segment | null;
  /** New couplers of this plan. */
  readonly couplers: number;
  /** What they draw there together, µA. */
  readonly couplersUa: number;
}

/** A line above that has to be made as well, with all couplers that hang on it. */
export interface NewMainLine {
  /** area.line */
  readonly line: string;
  readonly couplers: number;
  readonly loadUa: number;
  readonly plannedUa: number;
  /** Null where no supplies from stock carry the couplers. */
  readonly choice: FittingChoice | null;
}
