import { deviceLabel, segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { FittingChoice } from './choice.js';
import { type Demand, isCoupler, isDecentral } from './demand.js';

/** What a choice depends on, in words: what no figure decides, and who has to decide it. */
export function conditionsOf(choice: FittingChoice, demand: Demand, policy: Policy): string[] {
  const { added, removed, lowest } = choice;
  const isChange = added.length + removed.length > 0;
  return [
    ...sharedText(demand),
    ...labelTexts(demand),
    ...fixedTexts(demand, isChange),
    ...chokeTexts(choice, demand, policy),
    ...(demand.isCritical ? ['Two supplies on two mains circuits, or backed by a battery.'] : []),
    ...(lowest !== null && !lowest.isDecided
      ? [
          `Whether every device gets ${policy.leastDeviceV} V is open: the site sheet does not tell enough of the cable.`,
        ]
      : []),
    ...(isChange ? ['The mains side is work for a licensed electrician under the local code.'] : []),
  ];
}

function sharedText({ segments }: Demand): string[] {
  if (segments.length <= 1) return [];
  return [`One choice for lines ${segments.map(segmentLabel).join(', ')}, which share their supplies.`];
}

function labelTexts({ unrated }: Demand): string[] {
  return unrated.map(
    ({ device }) => `The rating of ${deviceLabel(device)} is not declared: read its label first, it may do as it is.`,
  );
}

function fixedTexts({ fixed }: Demand, isChange: boolean): string[] {
  if (!isChange) return [];
  const decentral = fixed.filter(isDecentral).map(({ device }) => deviceLabel(device));
  const couplers = fixed.filter(isCoupler).map(({ device }) => deviceLabel(device));
  return [
    ...(decentral.length === 0 ? [] : [`Decentral supplies stay as they are: ${decentral.join(', ')}.`]),
    ...couplers.map((label) => `${label} is the coupler as well, so it stays.`),
  ];
}

function chokeTexts({ kept, added, placings }: FittingChoice, { fixed }: Demand, { chokesApartM }: Policy): string[] {
  const central = kept.length + added.length + fixed.filter((supply) => !isDecentral(supply)).length;
  const last = placings.at(-1);
  if (central < 2 || last === undefined) return [];
  if (last.sharesChoke === null) {
    return [`The chokes of the two supplies at least ${chokesApartM} m of cable apart, or one choke for both.`];
  }
  return last.sharesChoke
    ? [`One choke for both supplies, as no place on the cable is ${chokesApartM} m from the other.`]
    : [`The second supply at ${last.at}, at least ${chokesApartM} m of cable from the other; each with its own choke.`];
}
