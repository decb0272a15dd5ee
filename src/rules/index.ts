import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import { assumptionDecides } from './assumption-decides.js';
import { auxiliaryOverload } from './auxiliary-overload.js';
import { cableTooLong } from './cable-too-long.js';
import { couplerMissing } from './coupler-missing.js';
import { currentImplausible } from './current-implausible.js';
import { currentNotDeclared } from './current-not-declared.js';
import { deviceUnplaced } from './device-unplaced.js';
import { devicesTooFarApart } from './devices-too-far-apart.js';
import { duplicateAddress } from './duplicate-address.js';
import { fanInExceeded } from './fan-in-exceeded.js';
import { feedUnknown } from './feed-unknown.js';
import { growthExceedsSupply } from './growth-exceeds-supply.js';
import { holdUpTooShort } from './hold-up-too-short.js';
import { lowHeadroom } from './low-headroom.js';
import { measuredDeviates } from './measured-deviates.js';
import { missingSupply } from './missing-supply.js';
import { overloadedSegment } from './overloaded-segment.js';
import { oversizedSupply } from './oversized-supply.js';
import { productNotInArchive } from './product-not-in-archive.js';
import { inWords, type Rule } from './rule.js';
import { schemaNotKnown } from './schema-not-known.js';
import { segmentBoundariesUnknown } from './segment-boundaries-unknown.js';
import { shortCircuitSum } from './short-circuit-sum.js';
import { siteSheetStale } from './site-sheet-stale.js';
import { suppliesTooClose } from './supplies-too-close.js';
import { supplyNotRedundant } from './supply-not-redundant.js';
import { supplyNotReporting } from './supply-not-reporting.js';
import { supplyOnUnpoweredMedium } from './supply-on-unpowered-medium.js';
import { supplyRatingUnknown } from './supply-rating-unknown.js';
import { supplyTooFar } from './supply-too-far.js';
import { tooManyDevices } from './too-many-devices.js';
import { tooManySupplies } from './too-many-supplies.js';
import { voltageTooLow } from './voltage-too-low.js';
import { waiverExpired } from './waiver-expired.js';
import { waiverOutgrown } from './waiver-outgrown.js';
import { waiverUnused } from './waiver-unused.js';

/** Every rule, in the order in which a planner would ask; reports and lists keep it. */
export const RULES: readonly Rule[] = [
  overloadedSegment,
  auxiliaryOverload,
  missingSupply,
  lowHeadroom,
  growthExceedsSupply,
  assumptionDecides,
  supplyRatingUnknown,
  feedUnknown,
  segmentBoundariesUnknown,
  tooManySupplies,
  shortCircuitSum,
  voltageTooLow,
  cableTooLong,
  supplyTooFar,
  devicesTooFarApart,
  suppliesTooClose,
  supplyNotRedundant,
  supplyNotReporting,
  holdUpTooShort,
  measuredDeviates,
  duplicateAddress,
  tooManyDevices,
  currentNotDeclared,
  currentImplausible,
  productNotInArchive,
  supplyOnUnpoweredMedium,
  couplerMissing,
  deviceUnplaced,
  fanInExceeded,
  oversizedSupply,
  schemaNotKnown,
  siteSheetStale,
  waiverExpired,
  waiverOutgrown,
  waiverUnused,
];

/** The same rules with their texts in a language. */
export function rulesIn(words: Words): readonly Rule[] {
  return words === EN ? RULES : RULES.map((rule) => inWords(rule, words));
}
