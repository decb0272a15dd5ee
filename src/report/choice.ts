import type { Supply } from '../plant/plant.js';
import type { FittingChoice, StockUnit } from '../sizing/choice.js';
import { toMa, toMaOrNull, toMv } from '../units.js';
import type { ReportChoice, ReportUnit } from './proposal-shape.js';

/** Thousands of segments of one load have the same choice. */
const reported = new WeakMap<FittingChoice, ReportChoice>();

/** Supplies that carry a segment. */
export function reportChoice(choice: FittingChoice): ReportChoice {
  const known = reported.get(choice) ?? choiceShape(choice);
  reported.set(choice, known);
  return known;
}

function choiceShape(choice: FittingChoice): ReportChoice {
  const { fixed, kept, removed, added, placings, lowest } = choice;
  return {
    kept: [...fixed, ...kept].map(present),
    removed: removed.map(present),
    added: added.map((unit, at) => bought(unit, placings[at]?.at ?? null)),
    ratedMa: toMa(choice.ratedUa),
    targetMa: toMa(choice.targetUa),
    marginMa: toMa(choice.marginUa),
    price: priceOf(choice.priceHundredths),
    lowest: lowest && {
      isDecided: lowest.isDecided,
      typicalV: lowest.typicalV === null ? null : toMv(lowest.typicalV),
      leastV: lowest.leastV === null ? null : toMv(lowest.leastV),
    },
  };
}

/** A supply that is there. */
export function present({ device, ratingUa, isReporting }: Supply): ReportUnit {
  return {
    id: device.id,
    name: device.name,
    ratedMa: toMaOrNull(ratingUa),
    kind: isReporting ? 'reporting' : 'plain',
    orderNumber: device.product?.orderNumber ?? null,
    railUnits: null,
    price: null,
    at: null,
  };
}

/** A supply to be bought. @param at point of the cable, null where the site sheet does not tell */
export function bought(
  { ratingUa, kind, orderNumber, railUnits, priceHundredths }: StockUnit,
  at: string | null,
): ReportUnit {
  const price = priceOf(priceHundredths);
  return { id: null, name: null, ratedMa: toMa(ratingUa), kind, orderNumber, railUnits, price, at };
}

function priceOf(hundredths: number | null): number | null {
  return hundredths === null ? null : hundredths / 100;
}
