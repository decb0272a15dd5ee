import type { Balance } from '../electrical/balance.js';
import { type AfterFailure, afterFailure } from '../electrical/failure.js';
import { together } from '../electrical/load.js';
import { deviceLabel, type Supply, segmentLabel } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import { toMa } from '../units.js';
import type { Words } from '../words/words.js';
import { loadFacts, loadMeasure, noBoundaries, noCapacity, restsOn } from './judged.js';
import { type Measure, type RuleContext, segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

/** What is left once some supplies have failed. */
interface Failure extends AfterFailure {
  readonly failed: readonly Supply[];
}

/** What must not fail, as too little is left without it. */
type Weakness = ({ readonly of: 'supply' | 'mains circuit' } & Failure) | { readonly of: 'only mains circuit' };

export const supplyNotRedundant = segmentRule({
  id: 'supply-not-redundant',
  severity: 'error',
  basis: 'common practice',
  missing: (balance, context) => {
    const { onSite } = balance;
    const { missing } = context.words;
    const unsaid = noBoundaries(balance, context);
    if (unsaid !== null) return unsaid;
    if (onSite === null) return missing.criticalWithoutSheet;
    const { isCritical } = onSite.entry;
    if (isCritical === null) return missing.criticalUnsaid;
    return isCritical ? (noRatings(balance, context) ?? noCircuits(balance, context)) : null;
  },
  *check(balance, context) {
    const { segment, onSite } = balance;
    const weakness = onSite?.entry.isCritical ? weaknessOf(balance, context) : null;
    if (weakness === null) return;
    const isLacking = 'leftUa' in weakness;
    const held = isLacking ? heldTogether(balance, weakness, context) : balance;
    const leftMa = isLacking ? toMa(weakness.leftUa) : null;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: measureOf(held, leftMa, context.words),
      restsOn: restsOn(held),
      facts: {
        ...loadFacts(held),
        segment: segmentLabel(segment),
        supplies: segment.supplies.length,
        without: weakness.of,
        failed: isLacking ? weakness.failed.map(({ device }) => deviceLabel(device)) : [],
        leftMa,
        lackingMa: isLacking ? toMa(weakness.loadUa - weakness.leftUa) : null,
      },
    };
  },
});

function measureOf({ judged: { load } }: Balance, leftMa: number | null, words: Words): Measure {
  return leftMa === null
    ? { quantity: words.facts.quantities.mainsCircuits, unit: 'circuits', value: 1, limit: 2, holds: 'at least' }
    : { ...loadMeasure(load, null, words), limit: leftMa };
}

/** The balance with the load that is held against what is left. */
function heldTogether(balance: Balance, { segments }: AfterFailure, { balances }: RuleContext): Balance {
  const load = together(balances.filter((one) => segments.includes(one.segment)).map((one) => one.load));
  return { ...balance, judged: { ...balance.judged, segments, load, plannedUa: 0 } };
}

/** Of segments that share supplies another one may have one without a rating. */
function noRatings(balance: Balance, context: RuleContext): string | null {
  const isUnrated = balance.segment.loads.length > 0 && suppliesOf(balance).some(({ ratingUa }) => ratingUa === null);
  return noCapacity(balance, context) ?? (isUnrated ? context.words.missing.rating : null);
}

/** The circuits do not matter where the supplies are too few already. */
function noCircuits(balance: Balance, context: RuleContext): string | null {
  if (balance.segment.loads.length === 0 || hasBattery(balance)) return null;
  if (worstFailure(balance, context, eachAlone(suppliesOf(balance))) !== null) return null;
  const areKnown = suppliesOf(balance).every((supply) => circuitOf(supply, context.site) !== null);
  if (!areKnown) return context.words.missing.circuits;
  const isOpen = isBatteryOpen(balance) && weakCircuit(balance, context) !== null;
  return isOpen ? context.words.missing.batteryTime : null;
}

function weaknessOf(balance: Balance, context: RuleContext): Weakness | null {
  const { segment } = balance;
  if (segment.loads.length === 0) return null;
  const bySupply = worstFailure(balance, context, eachAlone(suppliesOf(balance)));
  if (bySupply !== null) return { of: 'supply', ...bySupply };
  return hasBattery(balance) ? null : weakCircuit(balance, context);
}

function weakCircuit(balance: Balance, context: RuleContext): Weakness | null {
  const { supplies } = balance.segment;
  const isSingle = byCircuit(supplies, context.site).some((failed) => failed.length === supplies.length);
  if (isSingle) return { of: 'only mains circuit' };
  const worst = worstFailure(balance, context, byCircuit(suppliesOf(balance), context.site));
  return worst && { of: 'mains circuit', ...worst };
}

/** Of several things that may fail, the one without which most is lacking; null where nothing is. */
function worstFailure(
  { segment, sharesWith }: Balance,
  { balances }: RuleContext,
  failures: readonly (readonly Supply[])[],
): Failure | null {
  const loads = new Map(balances.map((one) => [one.segment, one.load.totalUa]));
  const group = { segments: [segment, ...sharesWith], supplies: [] };
  const lacking = ({ loadUa, leftUa }: Failure) => loadUa - leftUa;
  const [worst] = failures
    .flatMap((failed) => {
      const ids = new Set(failed.map(({ device }) => device.id));
      const after = afterFailure(segment, group, ids, (one) => loads.get(one) ?? 0);
      return after === null ? [] : { ...after, failed };
    })
    .sort((a, b) => lacking(b) - lacking(a));
  return worst !== undefined && lacking(worst) > 0 ? worst : null;
}

function eachAlone(supplies: readonly Supply[]): Supply[][] {
  return supplies.map((supply) => [supply]);
}

/**
 * What fails with each mains circuit. Boards number their circuits each for itself, so that F1 of one is not F1 of
 * another; a supply on a board that is not known may be on any, and is taken to fail with each.
 */
function byCircuit(supplies: readonly Supply[], site: Site | null): Supply[][] {
  const circuits = new Map<string | null, Map<string | null, Supply[]>>();
  for (const supply of supplies) {
    const [circuit, board] = [circuitOf(supply, site), boardOf(supply, site)];
    const boards = circuits.get(circuit) ?? new Map<string | null, Supply[]>();
    boards.set(board, [...(boards.get(board) ?? []), supply]);
    circuits.set(circuit, boards);
  }
  return [...circuits.values()].flatMap((boards) => {
    const somewhere = boards.get(null) ?? [];
    const known = [...boards].flatMap(([board, own]) => (board === null ? [] : [[...own, ...somewhere]]));
    return known.length > 0 ? known : [somewhere];
  });
}

/** All that feed the segment or what shares supplies with it, each once. */
function suppliesOf({ segment, sharesWith }: Balance): Supply[] {
  const all = [segment, ...sharesWith].flatMap(({ supplies }) => supplies);
  return [...new Map(all.map((one) => [one.device.id, one])).values()];
}

function circuitOf({ device }: Supply, site: Site | null): string | null {
  return plainName(site?.supplies.get(device.id)?.mainsCircuit);
}

function boardOf({ device }: Supply, site: Site | null): string | null {
  return plainName(site?.supplies.get(device.id)?.board);
}

/** Names of circuits and boards are typed by hand. */
function plainName(name: string | null | undefined): string | null {
  return name?.trim().toLowerCase() || null;
}

/** One that holds the wanted time. */
function hasBattery({ onSite }: Balance): boolean {
  return onSite?.entry.holdUp?.battery != null && onSite.holdUp?.holds === true;
}

/** There is one, but not enough is known of it to tell whether it holds. */
function isBatteryOpen({ onSite }: Balance): boolean {
  return onSite?.entry.holdUp?.battery != null && onSite.holdUp?.holds === null;
}
