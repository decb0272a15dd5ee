/**
 * Facts of the bus standard that no policy changes. Volumes are those of the standard's published specification; the
 * family behind EN 50090-5-2 and ISO/IEC 14543-3-6.
 */

/** Greatest short-circuit current by rating, mA (volume 9/2, figure 3). */
export const SHORT_CIRCUIT_MA: readonly { readonly ratingMa: number; readonly currentMa: number }[] = [
  { ratingMa: 160, currentMa: 1000 },
  { ratingMa: 320, currentMa: 1000 },
  { ratingMa: 640, currentMa: 1500 },
  { ratingMa: 960, currentMa: 2250 },
  { ratingMa: 1280, currentMa: 3000 },
];

/** Greatest sum of short-circuit currents on an electrical segment, mA (volume 9/2 §2.11). */
export const SHORT_CIRCUIT_SUM_MA = 3000;

/** Central supplies on a segment, at most (volume 3/2/2; 9/2 §2.11). */
export const CENTRAL_SUPPLIES = 2;

/** Decentral supplies on a segment, at most, and the greatest rating of one, mA (volume 9/2 §6). */
export const DECENTRAL_SUPPLIES = 8;
export const DECENTRAL_RATING_MA = 80;

/** Direct-current drop over both windings of a choke, V, up to a rating in mA and above it (volume 9/2 §5.6). */
export const CHOKE_DROP = { upToMa: 640, dropV: 1.5, aboveV: 2.5 } as const;

/** Steps of the current classes: 2.5 mA up to 20 mA, 5 mA above (volume 4/1 §2.7). */
export const CURRENT_CLASS = { fineStepMa: 2.5, fineUpToMa: 20, coarseStepMa: 5 } as const;

/** Voltage at which the current of a class is stated, V (volume 4/1 §2.7). */
export const CURRENT_CLASS_V = 24;

/** Weight of a device that declares none, and the bound that the sum has to stay below (volume 4/1 §2.7). */
export const FAN_IN_WEIGHT = { default: 4, below: 257 } as const;

/** Greatest voltage of a supply, V (volume 9/2 §2.2: 28–31 V). */
export const GREATEST_SUPPLY_V = 31;
