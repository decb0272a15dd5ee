import type { Segment } from '../plant/plant.js';
import type { PlannedGrowth, Policy } from '../policy/policy.js';
import { fromMa } from '../units.js';

/** What is planned for a segment and not there yet. */
export interface Growth {
  /** Position of the policy's entry that counts; null where none does. */
  readonly entry: number | null;
  readonly devices: number;
  /** Planned devices at the rule of thumb, and the reserve, µA. */
  readonly plannedUa: number;
}

const NONE: Growth = { entry: null, devices: 0, plannedUa: 0 };

/** What the policy plans for a segment: the last of its entries that is for the segment's line. */
export function growthOf({ line, medium }: Segment, { growth, assumedCurrentMa }: Policy): Growth {
  if (!medium.needsPower) return NONE;
  const entry = growth.findLastIndex((one) => isFor(one, line.areaAddress, line.lineAddress));
  const planned = growth[entry];
  if (planned === undefined) return NONE;
  const { devices, reserveMa } = planned;
  return { entry, devices, plannedUa: devices * fromMa(assumedCurrentMa) + fromMa(reserveMa) };
}

function isFor({ line: pattern }: PlannedGrowth, area: number, line: number): boolean {
  const [areas, lines = '*'] = pattern.split('.');
  return (areas === '*' || Number(areas) === area) && (lines === '*' || Number(lines) === line);
}
