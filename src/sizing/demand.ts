import type { Balance } from '../electrical/balance.js';
import { isDecentral as isDecentralRating } from '../electrical/capacity.js';
import { CENTRAL_SUPPLIES, DECENTRAL_SUPPLIES } from '../electrical/standard.js';
import { deviceLabel, possibleFeeds, type Segment, type Supply, segmentLabel } from '../plant/plant.js';
import type { Sized, SizingWords } from './sized.js';

/** Couplers that lines yet to be made put on a segment. */
export interface NewCouplers {
  readonly count: number;
  /** What they draw there together, µA. */
  readonly ua: number;
}

export const NO_COUPLERS: NewCouplers = { count: 0, ua: 0 };

/** What supplies have to be, and what is there of them, whatever the load. */
export interface Wishes {
  readonly isCritical: boolean;
  readonly wantsReporting: boolean;
  /** They stay in any case: decentral ones, which are placed along the cable, and those that are the coupler as well. */
  readonly fixed: readonly Supply[];
  /** Central ones with a rating, of which any may stay. */
  readonly keepable: readonly Supply[];
  /** Central ones of which nobody knows what they deliver. */
  readonly unrated: readonly Supply[];
}

/** What supplies have to be chosen for. */
export interface Demand extends Wishes {
  /** All that are fed by exactly the same supplies; none where a line is yet to be made. */
  readonly segments: readonly Segment[];
  /** Load with what is drawn beside the bus, and with new couplers, µA. */
  readonly loadUa: number;
  readonly plannedUa: number;
}

/** Why nothing can be chosen for a segment. */
export interface NoDemand {
  readonly because: string;
}

/**
 * What a segment demands of its supplies, together with those that share them; or why that cannot be told.
 * @param added couplers of new lines on any of these segments
 */
export function demandOf(
  balance: Balance,
  { balances, site, words }: Pick<Sized, 'balances' | 'site' | 'words'>,
  added: NewCouplers = NO_COUPLERS,
): Demand | NoDemand {
  const because = unknownOf(balance, added, words);
  if (because !== null) return { because };
  const { segment, sharesWith, judged } = balance;
  const segments = [segment, ...sharesWith].sort((a, b) => positionOf(a, balances) - positionOf(b, balances));
  const entries = segments.flatMap(({ id }) => site?.segments.get(id) ?? []);
  const { supplies } = segment;
  const fixed = supplies.filter((supply) => isDecentral(supply) || (isCoupler(supply) && supply.ratingUa !== null));
  const others = supplies.filter((supply) => !fixed.includes(supply));
  const demand = {
    segments,
    loadUa: judged.load.totalUa + added.ua,
    plannedUa: judged.plannedUa,
    isCritical: entries.some(({ isCritical }) => isCritical),
    wantsReporting: entries.some(({ wantsReporting }) => wantsReporting),
    fixed,
    keepable: others.filter(({ ratingUa }) => ratingUa !== null),
    unrated: others.filter(({ ratingUa }) => ratingUa === null),
  };
  const hindrance = hindranceOf(demand, words);
  return hindrance === null ? demand : { because: hindrance };
}

/** The facts that are missing, or that there is nothing to choose for. */
function unknownOf(
  { segment, isFeedUnknown, sharesWith }: Balance,
  added: NewCouplers,
  { sizing, missing }: SizingWords,
): string | null {
  if (!segment.medium.needsPower) return missing.noPower(segment.medium.name);
  if (!segment.boundariesKnown) return missing.boundaries;
  if (segment.loads.length + added.count === 0) return sizing.nothing.noLoad;
  if (isFeedUnknown || (segment.supplies.length === 0 && possibleFeeds(segment) > 0)) {
    return missing.feed;
  }
  const own = idsOf(segment);
  const differing = sharesWith.find((other) => idsOf(other) !== own);
  return differing === undefined ? null : sizing.nothing.sharedInPart(segmentLabel(differing));
}

/** Far more central supplies than any segment has; pairs of them are gone through. */
const MOST_LOOKED_AT = 16;

/** What stands in the way and cannot be exchanged here. */
function hindranceOf({ fixed, keepable, unrated, wantsReporting }: Demand, { sizing }: SizingWords): string | null {
  const texts = sizing.nothing;
  const decentral = fixed.filter(isDecentral);
  if (decentral.length > DECENTRAL_SUPPLIES) {
    return texts.manyDecentral({ supplies: decentral.length, allowed: DECENTRAL_SUPPLIES });
  }
  const couplers = fixed.filter((supply) => !isDecentral(supply));
  if (couplers.length > CENTRAL_SUPPLIES) {
    return texts.manyCouplers({ supplies: couplers.length, allowed: CENTRAL_SUPPLIES });
  }
  const central = fixed.length - decentral.length + keepable.length + unrated.length;
  if (central > MOST_LOOKED_AT) {
    return texts.manyCentral({ supplies: central, allowed: CENTRAL_SUPPLIES });
  }
  const combined = unrated.find(isCoupler);
  if (combined !== undefined) return texts.couplerNotRated(deviceLabel(combined.device));
  const silent = wantsReporting ? fixed.find(({ isReporting }) => !isReporting) : undefined;
  return silent === undefined
    ? null
    : texts.silent({ supply: deviceLabel(silent.device), isDecentral: isDecentral(silent) });
}

export function isDecentral({ ratingUa }: Supply): boolean {
  return ratingUa !== null && isDecentralRating(ratingUa);
}

export function isCoupler({ device }: Supply): boolean {
  return device.role === 'supply and coupler';
}

function idsOf({ supplies }: Segment): string {
  return JSON.stringify(supplies.map(({ device }) => device.id).sort());
}

function positionOf(segment: Segment, balances: readonly Balance[]): number {
  return balances.findIndex((balance) => balance.segment === segment);
}
