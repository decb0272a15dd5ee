import type { Load, Origin } from '../plant/plant.js';
import { sum } from '../units.js';

/** What is charged to a segment, µA. The three origins and the auxiliary load add up to the total. */
export interface LoadSum {
  readonly totalUa: number;
  readonly byOrigin: { readonly [origin in Origin]: number };
  /** How many items are assumed. */
  readonly assumedItems: number;
  /** The part of the total that couplers of lines below draw here. */
  readonly couplersBelowUa: number;
  /** Drawn from an unchoked output of the supplies: it takes of their rating, but not over the bus. */
  readonly auxiliaryUa: number;
}

/** @param auxiliaryUa what the site sheet says is drawn beside the bus, µA */
export function loadSum(loads: readonly Load[], auxiliaryUa: number): LoadSum {
  const byOrigin = { declared: 0, overridden: 0, assumed: 0 };
  let assumedItems = 0;
  let couplersBelowUa = 0;
  for (const { current, chargedAs } of loads) {
    byOrigin[current.origin] += current.ua;
    if (current.origin === 'assumed') assumedItems++;
    if (chargedAs === 'coupler from below') couplersBelowUa += current.ua;
  }
  const totalUa = sum(Object.values(byOrigin)) + auxiliaryUa;
  return { totalUa, byOrigin, assumedItems, couplersBelowUa, auxiliaryUa };
}

/** The load of several segments that share their supplies. */
export function together(loads: readonly LoadSum[]): LoadSum {
  const total = (of: (load: LoadSum) => number) => sum(loads.map(of));
  return {
    totalUa: total(({ totalUa }) => totalUa),
    byOrigin: {
      declared: total(({ byOrigin }) => byOrigin.declared),
      overridden: total(({ byOrigin }) => byOrigin.overridden),
      assumed: total(({ byOrigin }) => byOrigin.assumed),
    },
    assumedItems: total(({ assumedItems }) => assumedItems),
    couplersBelowUa: total(({ couplersBelowUa }) => couplersBelowUa),
    auxiliaryUa: total(({ auxiliaryUa }) => auxiliaryUa),
  };
}

/** What flows over the bus itself, µA. */
export function busUa({ totalUa, auxiliaryUa }: LoadSum): number {
  return totalUa - auxiliaryUa;
}
