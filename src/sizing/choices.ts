import { capacityOf } from '../electrical/capacity.js';
import { CENTRAL_SUPPLIES } from '../electrical/standard.js';
import { targetOf } from '../electrical/target.js';
import type { Device, Supply } from '../plant/plant.js';
import { type Policy, SUPPLY_KINDS, type SupplyKind } from '../policy/policy.js';
import { greatest, sum } from '../units.js';
import type { Choice, ProposedUnit, StockUnit } from './choice.js';
import { type Demand, isDecentral, type Wishes } from './demand.js';
import { isPriced, unitsInStock } from './stock.js';

/**
 * Every choice that carries the demand by its currents, best first: any of the supplies that are there, with as many
 * from stock as two central ones in all allow. Where redundant supplies are in stock and any of these fit a critical
 * segment, nothing else is bought for it.
 */
export function carryingChoices(demand: Demand, policy: Policy): Choice[] {
  for (const kinds of kindsFor(demand)) {
    const units = unitsInStock(policy, kinds);
    const fitting = choicesOf(demand, units).filter((choice) => carries(choice, demand, policy));
    if (fitting.length > 0) return ranked(fitting, demand, policy);
  }
  return [];
}

/** The kinds that may be bought, in sets, the first that serves before the others. */
function kindsFor({ isCritical, wantsReporting }: Wishes): (readonly SupplyKind[])[] {
  if (wantsReporting) return [['reporting']];
  return isCritical ? [['redundant'], SUPPLY_KINDS] : [SUPPLY_KINDS];
}

function choicesOf({ fixed, keepable, unrated }: Wishes, units: readonly StockUnit[]): Choice[] {
  const most = CENTRAL_SUPPLIES - fixed.filter((supply) => !isDecentral(supply)).length;
  return upTo(keepable, most, false).flatMap((kept) => {
    const removed = [...keepable.filter((supply) => !kept.includes(supply)), ...unrated];
    return upTo(units, most - kept.length, true).map((added) => ({ kept, removed, added }));
  });
}

/** Every selection of at most so many of some things. @param isAgain whether one may be taken twice */
function upTo<T>(things: readonly T[], most: number, isAgain: boolean): T[][] {
  const found: T[][] = [[]];
  if (most >= 1) for (const one of things) found.push([one]);
  if (most < 2) return found;
  things.forEach((one, at) => {
    for (const other of things.slice(isAgain ? at : at + 1)) found.push([one, other]);
  });
  return found;
}

/** Whether a choice meets all conditions that currents decide. */
export function carries(choice: Choice, demand: Demand, policy: Policy): boolean {
  const mostUa = carriedAtMost(choice, demand, policy);
  return mostUa !== null && demand.loadUa + demand.plannedUa <= mostUa;
}

/**
 * The greatest load that a choice carries, µA: within the target, and, where the segment is critical, when the largest
 * supply fails. Null where two supplies, 3 A or the kind are against the choice whatever the load.
 */
function carriedAtMost(choice: Choice, demand: Wishes, policy: Policy): number | null {
  const supplies = suppliesWith(choice, demand);
  const { usableUa, withoutLargestUa } = capacityOf(supplies);
  if (usableUa === null || withoutLargestUa === null) return null;
  if (demand.wantsReporting && supplies.some(({ isReporting }) => !isReporting)) return null;
  const targetUa = targetOf(usableUa, policy);
  return demand.isCritical ? Math.min(targetUa, withoutLargestUa) : targetUa;
}

/** The greatest load that any choice carries, µA; null where none is admissible. */
export function greatestCarried(demand: Wishes, policy: Policy): number | null {
  const choices = kindsFor(demand).flatMap((kinds) => choicesOf(demand, unitsInStock(policy, kinds)));
  const carried = choices.flatMap((choice) => carriedAtMost(choice, demand, policy) ?? []);
  return carried.length === 0 ? null : greatest(carried);
}

/** All supplies that feed the segment once the choice is made. */
export function suppliesWith(choice: Choice, { fixed }: Pick<Demand, 'fixed'>): Supply[] {
  return [...fixed, ...choice.kept, ...proposedUnits(choice).map(({ supply }) => supply)];
}

/** What is bought as supplies of the plant. An id of the archive has no blank in it. */
export function proposedUnits({ added }: Choice): ProposedUnit[] {
  return added.map((unit, at) => ({
    unit,
    supply: {
      device: { ...NOT_THERE_YET, id: `proposed supply ${at}` },
      ratingUa: unit.ratingUa,
      isReporting: unit.kind === 'reporting',
    },
  }));
}

const NOT_THERE_YET: Device = {
  id: '',
  address: null,
  name: 'new supply',
  product: null,
  productRef: null,
  role: 'supply',
  joins: null,
  isIpEnabled: false,
  participates: false,
  location: null,
  additionalAddresses: [],
  override: null,
  isLoaded: null,
  sourceLine: 0,
};

/** Of what is bought, hundredths of the office's currency; null where a price is not known. */
export function priceOf({ added }: Choice): number | null {
  const prices = added.map(({ priceHundredths }) => priceHundredths);
  return prices.includes(null) ? null : sum(prices.map(Number));
}

/**
 * Best first. With a price on everything in stock: what costs least. Then, and without: what keeps most of what is there,
 * has the fewest units, the lowest rating in all, the smaller larger one, and the plainest kinds; last of all the order of
 * the documents decides.
 */
function ranked(choices: readonly Choice[], { keepable }: Demand, policy: Policy): Choice[] {
  const isByPrice = isPriced(policy);
  const ranks = choices.map((choice) => ({ choice, rank: rankOf(choice, keepable, isByPrice) }));
  return ranks.sort((a, b) => compareRanks(a.rank, b.rank)).map(({ choice }) => choice);
}

function compareRanks(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, position) => value !== b[position]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}

function rankOf(choice: Choice, keepable: readonly Supply[], isByPrice: boolean): number[] {
  const { kept, added } = choice;
  const ratings = [...kept.map(({ ratingUa }) => ratingUa ?? 0), ...added.map(({ ratingUa }) => ratingUa)];
  const firstTwo = (list: readonly number[]) => [list[0] ?? -1, list[1] ?? -1];
  return [
    isByPrice ? (priceOf(choice) ?? 0) : 0,
    -kept.length,
    ratings.length,
    sum(ratings),
    ratings.length === 0 ? 0 : greatest(ratings),
    sum(added.map(({ kind }) => SUPPLY_KINDS.indexOf(kind))),
    ...firstTwo(kept.map((supply) => keepable.indexOf(supply))),
    ...firstTwo(added.map(({ entry }) => entry)),
  ];
}
