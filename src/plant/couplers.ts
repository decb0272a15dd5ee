import type { Policy } from '../policy/policy.js';
import { upperSideCurrentOf } from './current.js';
import {
  type ChargedAs,
  type Current,
  type Device,
  isBesideSegments,
  type Line,
  type Load,
  type Segment,
  type UnchargedCoupler,
} from './plant.js';

/** What charging needs of a line: segments whose load can still grow. */
export interface OpenLine extends Line {
  readonly segments: readonly OpenSegment[];
}

export interface OpenSegment extends Segment {
  readonly loads: Load[];
}

/**
 * Charges every coupler to its other side as well: a line coupler to the first segment of the line above, a bridge to
 * the first segment of its line. Only twisted pair carries power, and an IP-enabled coupler has no bus on its upper side.
 * @returns the couplers whose line above is not in the archive
 */
export function chargeCouplers(lines: readonly OpenLine[], policy: Policy): UnchargedCoupler[] {
  const reached = reachedSegments(lines);
  const uncharged: UnchargedCoupler[] = [];
  for (const line of lines) {
    const first = firstSegment(line);
    const above = addressAbove(line);
    for (const segment of line.segments) {
      for (const device of segment.devices) {
        if (device.joins === 'other segment' && first !== segment) charge(first, device, 'bridge', segment, policy);
        if (device.joins !== 'line above' || above === null || device.isIpEnabled) continue;
        const target = reached.get(above);
        if (target === undefined) uncharged.push({ device, lineAbove: above });
        else charge(target, device, 'coupler from below', segment, policy);
      }
    }
  }
  return uncharged;
}

/** The segment that couplers from below reach, by the address of its line. */
function reachedSegments(lines: readonly OpenLine[]): Map<string, OpenSegment> {
  const reached = new Map<string, OpenSegment>();
  for (const line of lines) {
    const first = firstSegment(line);
    if (first !== undefined && !reached.has(line.address)) reached.set(line.address, first);
  }
  return reached;
}

function charge(
  target: OpenSegment | undefined,
  device: Device,
  chargedAs: ChargedAs,
  own: Segment,
  policy: Policy,
): void {
  if (target === undefined || !target.medium.needsPower) return;
  const isChargedBelow = device.participates && own.medium.needsPower;
  target.loads.push({ device, chargedAs, current: chargedAbove(device, isChargedBelow, policy) });
}

/** What a coupler draws on its upper side. @param isChargedBelow whether it is charged on the segment that it stands on */
export function chargedAbove(device: Device, isChargedBelow: boolean, policy: Policy): Current {
  return policy.couplerUpperSide === 'none' && isChargedBelow
    ? { ua: 0, origin: 'overridden' }
    : upperSideCurrentOf(device, policy);
}

/** The line above: an area's main line for its lines, the backbone line for main lines, none for the backbone line. */
export function addressAbove({ areaAddress, lineAddress }: Line): string | null {
  if (lineAddress > 0) return `${areaAddress}.0`;
  return areaAddress > 0 ? '0.0' : null;
}

/** The segment of a line that couplers reach: the one with the lowest number; what stands beside them is none. */
export function firstSegment<S extends Segment>({ segments }: { readonly segments: readonly S[] }): S | undefined {
  const numbered = segments.filter((segment) => !isBesideSegments(segment));
  return numbered.sort((a, b) => a.number - b.number)[0];
}
