/**
 * Handbook, BS 5839-1 Annex: a quarter more than is needed, for what a battery loses until it is replaced. Where the
 * hours of a given battery are asked, its capacity is divided by the same.
 */
export const AGEING = 1.25;

/** Handbook, BS 5839-1 Annex: factor on a load so high that a battery gives less than its rated capacity to it. */
const HIGH_LOAD_FACTOR = 1.75;

/** Handbook, BS 5839-1 Annex: such a load is one above the capacity in Ah divided by these hours. */
const HIGH_LOAD_BELOW_HOURS = 20;

/** A load and how long it lasts. */
export interface Stretch {
  readonly hours: number;
  readonly batteryA: number;
}

export interface NeededCapacity {
  readonly ah: number;
  /** The factor D of the method; null without a load at the end. */
  readonly highLoadFactor: number | null;
}

/** How a battery gives its capacity away. */
export interface Discharge {
  /** What is left of its capacity, over {@link ratedHours}, Ah. */
  readonly capacityAh: number;
  readonly ratedHours: number;
  readonly peukert: number;
}

/**
 * Current from a battery for a load on the bus, A. What the bus takes is what the battery gives less what is lost in
 * between, I_bus·V_bus = η·I_batt·V_batt; the supply's own consumption comes on top (derived here).
 * @param efficiency from the battery to the bus, as a ratio
 * @param ownA of the supply itself, from the battery, A
 */
export function batteryCurrentA(
  busA: number,
  busV: number,
  { voltageV, efficiency, ownA }: { readonly voltageV: number; readonly efficiency: number; readonly ownA: number },
): number {
  return (busA * busV) / (efficiency * voltageV) + ownA;
}

/**
 * Capacity that a load needs, with another one after it: C = 1.25·(T1·I1 + D·T2·I2), D = 1.75 where C/20 < I2 and
 * otherwise 1 (handbook, BS 5839-1 Annex). The capacity decides on the factor that it is made with: D = 1 is tried
 * first and stands if its own capacity admits it; if not, D = 1.75 is taken, also where the greater capacity would
 * have admitted 1 again.
 */
export function neededCapacity(load: Stretch, atEnd: Stretch | null): NeededCapacity {
  const loadAh = load.hours * load.batteryA;
  if (atEnd === null) return { ah: AGEING * loadAh, highLoadFactor: null };
  const withFactor = (factor: number) => AGEING * (loadAh + factor * atEnd.hours * atEnd.batteryA);
  const plainAh = withFactor(1);
  if (plainAh / HIGH_LOAD_BELOW_HOURS >= atEnd.batteryA) return { ah: plainAh, highLoadFactor: 1 };
  return { ah: withFactor(HIGH_LOAD_FACTOR), highLoadFactor: HIGH_LOAD_FACTOR };
}

/**
 * Hours until a battery is empty, by Peukert's law t = H·(C/(I·H))^k (handbook). The law promises ever more than the
 * rated capacity as the current falls below the rated one; here the rated capacity is the most that is credited
 * (derived here), so that t is C/I there.
 * @returns Infinity where nothing is drawn
 */
export function hoursAt(batteryA: number, { capacityAh, ratedHours, peukert }: Discharge): number {
  if (batteryA === 0) return Number.POSITIVE_INFINITY;
  const ofRatedRate = capacityAh / (batteryA * ratedHours);
  return ratedHours * ofRatedRate ** (ofRatedRate > 1 ? 1 : peukert);
}

/**
 * Hours of a load after which a battery still gives another one for its time. Each takes the share of the charge that
 * its time is of the hours it could last alone (derived here from Peukert's law).
 * @returns 0 where the load at the end alone empties it; Infinity where nothing is drawn
 */
export function hoursBefore(batteryA: number, atEnd: Stretch | null, discharge: Discharge): number {
  const shareLeft = atEnd === null ? 1 : 1 - atEnd.hours / hoursAt(atEnd.batteryA, discharge);
  return shareLeft <= 0 ? 0 : shareLeft * hoursAt(batteryA, discharge);
}

/**
 * How much more capacity a lead-acid battery needs in the cold, by its temperature in °C: the cell-size correction of
 * IEEE 485, from memory, not confirmed.
 */
const CORRECTION = [
  { celsius: -3.9, factor: 1.52 },
  { celsius: -1.1, factor: 1.43 },
  { celsius: 4.4, factor: 1.3 },
  { celsius: 10, factor: 1.19 },
  { celsius: 15.6, factor: 1.11 },
  { celsius: 21.1, factor: 1.04 },
  { celsius: 25, factor: 1 },
] as const;

/** The lowest temperature for which a correction is known, °C. */
export const COLDEST_C = CORRECTION[0].celsius;

/**
 * Correction of a needed capacity for the battery's temperature: linear between the points of IEEE 485 (from memory,
 * not confirmed), 1 above 25 °C, where warmth is not credited. Below the coldest point the coldest slope is continued;
 * as the true curve gets ever steeper, that is the least that the correction can be.
 */
export function temperatureFactor(celsius: number): number {
  const above = CORRECTION.findIndex((point, at) => at > 0 && celsius <= point.celsius);
  const [low, high] = [CORRECTION[above - 1], CORRECTION[above]];
  if (low === undefined || high === undefined) return 1;
  const perKelvin = (high.factor - low.factor) / (high.celsius - low.celsius);
  return high.factor + (celsius - high.celsius) * perKelvin;
}
