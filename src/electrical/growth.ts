import type { Segment } from '../plant/plant.js';
import type { PlannedGrowth, Policy } from '../policy/policy.js';
import type { PlannedDevices } from '../site/site.js';
import { fromMa, sum } from '../units.js';

/** What is planned for a segment and not there yet. */
export interface Growth {
  /** Position of the policy's entry that counts; null where none does. */
  readonly entry: number | null;
  readonly devices: number;
  /** Planned devices, each at its own current or at the rule of thumb, and the reserve, µA. */
  readonly plannedUa: number;
}

const NONE: Growth = { entry: null, devices: 0, plannedUa: 0 };

/**
 * What is planned for a segment: what the last of the policy's entries for its line says, which is general, and the
 * devices of the site sheet, which are particular; one does not replace the other.
 */
export function growthOf(segment: Segment, policy: Policy, onSite: readonly PlannedDevices[] = []): Growth {
  if (!segment.medium.needsPower) return NONE;
  const general = growthOfPolicy(segment, policy);
  if (onSite.length === 0) return general;
  const ofOne = ({ currentUa }: PlannedDevices) => currentUa ?? fromMa(policy.assumedCurrentMa);
  return {
    entry: general.entry,
    devices: general.devices + sum(onSite.map(({ devices }) => devices)),
    plannedUa: general.plannedUa + sum(onSite.map((planned) => planned.devices * ofOne(planned))),
  };
}

function growthOfPolicy({ line }: Segment, { growth, assumedCurrentMa }: Policy): Growth {
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
