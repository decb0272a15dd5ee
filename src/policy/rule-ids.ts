/** The rules that judge the plant; a waiver may be for any of them. */
export const PLANT_RULE_IDS = [
  'overloaded-segment',
  'auxiliary-overload',
  'missing-supply',
  'low-headroom',
  'growth-exceeds-supply',
  'assumption-decides',
  'supply-rating-unknown',
  'feed-unknown',
  'segment-boundaries-unknown',
  'too-many-supplies',
  'short-circuit-sum',
  'voltage-too-low',
  'cable-too-long',
  'supply-too-far',
  'devices-too-far-apart',
  'supplies-too-close',
  'supply-not-redundant',
  'supply-not-reporting',
  'hold-up-too-short',
  'measured-deviates',
  'duplicate-address',
  'too-many-devices',
  'current-not-declared',
  'current-implausible',
  'product-not-in-archive',
  'supply-on-unpowered-medium',
  'coupler-missing',
  'device-unplaced',
  'fan-in-exceeded',
  'oversized-supply',
  'schema-not-known',
  'site-sheet-stale',
] as const;

/** The rules that judge the waivers, which nobody waives. */
const WAIVER_RULE_IDS = ['waiver-expired', 'waiver-outgrown', 'waiver-unused'] as const;

/** The rules that a policy may set; `src/rules` has them in this order. */
export const RULE_IDS = [...PLANT_RULE_IDS, ...WAIVER_RULE_IDS] as const;

export type RuleId = (typeof RULE_IDS)[number];
