import { deviceLabel, segmentLabel } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import type { FittingChoice } from './choice.js';
import { type Demand, isCoupler, isDecentral } from './demand.js';
import type { SizingWords } from './sized.js';

type Texts = SizingWords['sizing']['choice'];

/** What a choice depends on, in words: what no figure decides, and who has to decide it. */
export function conditionsOf(choice: FittingChoice, demand: Demand, policy: Policy, { sizing }: SizingWords): string[] {
  const texts = sizing.choice;
  const { added, removed, lowest } = choice;
  const isChange = added.length + removed.length > 0;
  return [
    ...sharedText(demand, texts),
    ...labelTexts(demand, texts),
    ...fixedTexts(demand, isChange, texts),
    ...chokeTexts(choice, demand, policy, texts),
    ...(demand.isCritical ? [texts.twoCircuits] : []),
    ...(lowest !== null && !lowest.isDecided ? [texts.voltageOpen(policy.leastDeviceV)] : []),
    ...(isChange ? [texts.mains] : []),
  ];
}

function sharedText({ segments }: Demand, { shared }: Texts): string[] {
  return segments.length <= 1 ? [] : [shared(segments.map(segmentLabel))];
}

function labelTexts({ unrated }: Demand, { readLabel }: Texts): string[] {
  return unrated.map(({ device }) => readLabel(deviceLabel(device)));
}

function fixedTexts({ fixed }: Demand, isChange: boolean, { decentralStay, couplerStays }: Texts): string[] {
  if (!isChange) return [];
  const decentral = fixed.filter(isDecentral).map(({ device }) => deviceLabel(device));
  const couplers = fixed.filter(isCoupler).map(({ device }) => deviceLabel(device));
  return [...(decentral.length === 0 ? [] : [decentralStay(decentral)]), ...couplers.map(couplerStays)];
}

function chokeTexts(
  { kept, added, placings }: FittingChoice,
  { fixed }: Demand,
  { chokesApartM: apartM }: Policy,
  { chokesOpen, chokeShared, chokesApart }: Texts,
): string[] {
  const central = kept.length + added.length + fixed.filter((supply) => !isDecentral(supply)).length;
  const last = placings.at(-1);
  if (central < 2 || last === undefined) return [];
  if (last.sharesChoke === null) return [chokesOpen(apartM)];
  return [last.sharesChoke ? chokeShared(apartM) : chokesApart({ at: last.at, apartM })];
}
