import { chargedAbove } from '../plant/couplers.js';
import { type Device, type Installation, type Line, type Segment, segmentsOf } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { fromMa } from '../units.js';
import type { NewCoupler } from './split-plan.js';

/**
 * A coupler for a new line: like that of the segment's own line, else of one near it, so that there is one kind of
 * them; where the installation has none that fits, at the rule of thumb.
 * @param isIpEnabled whether the line above is a network
 */
export function newCoupler(
  segment: Segment,
  installation: Installation,
  isIpEnabled: boolean,
  policy: Policy,
): NewCoupler {
  const { line } = segment;
  const near = installation.lines.filter(({ areaAddress }) => areaAddress === line.areaAddress);
  const like = [line, ...near, ...installation.lines]
    .flatMap(lineCouplersOf)
    .find((device) => device.isIpEnabled === isIpEnabled);
  const thumbUa = fromMa(policy.assumedCurrentMa);
  if (like === undefined) {
    const upperUa = isIpEnabled || policy.couplerUpperSide === 'none' ? 0 : thumbUa;
    return { lowerUa: thumbUa, upperUa, isIpEnabled, like: null };
  }
  const own = segmentsOf(installation).flatMap(({ loads }) => loads);
  const lower = own.find(({ device, chargedAs }) => device === like && chargedAs === 'participant');
  return { lowerUa: lower?.current.ua ?? thumbUa, upperUa: upperUaOf(like, policy), isIpEnabled, like };
}

/** What a line coupler that stands on a powered segment draws of the line above, µA. */
export function upperUaOf(device: Device, policy: Policy): number {
  return device.isIpEnabled ? 0 : chargedAbove(device, device.participates, policy).ua;
}

/** Couplers and nothing else, below a main line: those that a new line could have as well. */
function lineCouplersOf({ lineAddress, segments }: Line): Device[] {
  if (lineAddress === 0) return [];
  const devices = segments.filter(({ medium }) => medium.needsPower).flatMap((segment) => segment.devices);
  return devices.filter(({ role, joins }) => role === 'coupler' && joins === 'line above');
}
