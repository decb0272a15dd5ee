import type { Segment } from '../plant/plant.js';
import type { FittingChoice, ProposedAction } from './choice.js';
import type { NewCouplers } from './demand.js';
import type { Moves } from './moves/moves.js';
import type { SplitPlan } from './split-plan.js';

export interface Proposal {
  readonly action: ProposedAction;
  /** Why nothing is proposed, or why no single choice serves; null otherwise. */
  readonly because: string | null;
  /** The segments that the proposal is for: those that share all their supplies. */
  readonly segments: readonly Segment[];
  /** Load with what is drawn beside the bus, of all these segments, and with {@link newCouplers}, µA. */
  readonly loadUa: number;
  readonly plannedUa: number;
  /** Those of lines that are proposed below. */
  readonly newCouplers: NewCouplers;
  readonly choice: FittingChoice | null;
  /** What would do as well, next best first. */
  readonly others: readonly FittingChoice[];
  /** How the segment is split; null where it is not, or where that could not be worked out. */
  readonly plan: SplitPlan | null;
  /** Devices that could be moved elsewhere instead; null where no segment has room for them. */
  readonly moves: Moves | null;
  /** What the choice, or the plan, depends on, in words. */
  readonly conditions: readonly string[];
}
