import type { Balance } from '../electrical/balance.js';
import type { Carried } from '../electrical/verdict.js';
import { type Supply, segmentLabel } from '../plant/plant.js';
import type { Site } from '../site/site.js';
import { greatest, sum, toMa } from '../units.js';
import { loadFacts, loadMeasure, noBoundaries, noCapacity, restsOn } from './judged.js';
import { type Measure, segmentRule } from './rule.js';
import { assumedRemark, chargedText, milliamps, segmentSubject } from './words.js';

/** What must not fail, as too little is left without it. */
type Weakness = { readonly part: Carried } & (
  | { readonly of: 'largest supply' | 'largest mains circuit'; readonly leftUa: number }
  | { readonly of: 'only mains circuit' }
);

export const supplyNotRedundant = segmentRule({
  id: 'supply-not-redundant',
  title: 'A critical segment does not outlast the failure of a supply or a mains circuit',
  severity: 'error',
  why: 'What must run on when a supply fails needs a second one that carries all of the load, and that the same tripped breaker does not take with it.',
  remedy:
    'Feed the segment from two supplies, each of which carries its load, on two mains circuits or backed by a battery.',
  limit:
    'load ≤ what is left without the largest supply, and without the largest mains circuit unless a battery carries it; at least 2 mains circuits',
  basis: 'common practice',
  source: 'common practice, no source: redundant is on two mains circuits, or with a battery',
  missing: (balance, { site }) => {
    const { onSite } = balance;
    const unsaid = noBoundaries(balance);
    if (unsaid !== null) return unsaid;
    if (onSite === null) return 'whether the segment is critical: no site sheet says so';
    const { isCritical } = onSite.entry;
    if (isCritical === null) return 'whether the segment is critical: the site sheet does not say';
    return isCritical ? (noRatings(balance) ?? noCircuits(balance, site)) : null;
  },
  *check(balance, { site }) {
    const { segment, onSite } = balance;
    const weakness = onSite?.entry.isCritical ? weaknessOf(balance, site) : null;
    if (weakness === null) return;
    const { part } = weakness;
    const weak = { ...balance, judged: { ...part, plannedUa: 0 } };
    const leftMa = 'leftUa' in weakness ? toMa(weakness.leftUa) : null;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: measureOf(part, leftMa),
      restsOn: restsOn(weak),
      facts: {
        ...loadFacts(weak),
        segment: segmentLabel(segment),
        supplies: part.supplies.length,
        without: weakness.of,
        leftMa,
        lackingMa: 'leftUa' in weakness ? toMa(part.load.totalUa - weakness.leftUa) : null,
      },
    };
  },
  message: (f) => {
    if (f.leftMa === null) {
      return `All supplies of line ${f.segment} are on one mains circuit, and no battery carries them: at least two circuits are wanted, as the segment is critical.`;
    }
    const without = f.supplies === 1 ? 'its only supply' : `the ${f.without}`;
    return `${chargedText(f)}; without ${without} ${milliamps(f.leftMa)} are left: ${milliamps(f.lackingMa ?? 0)} too little for a critical segment.${assumedRemark(f.assumedMa, f.assumedItems)}`;
  },
  advice: (f) => {
    if (f.leftMa === null) return 'Put one of the supplies on another mains circuit, or back them with a battery.';
    return f.without === 'largest supply'
      ? `Fit the supplies so that ${milliamps(f.loadMa)} are left whichever of them fails; mind the sum of the short-circuit currents and the distance between chokes.`
      : `Spread the supplies over the mains circuits so that ${milliamps(f.loadMa)} are left whichever of these fails, or back them with a battery.`;
  },
});

function measureOf({ load }: Carried, leftMa: number | null): Measure {
  return leftMa === null
    ? { quantity: 'mains circuits', unit: 'circuits', value: 1, limit: 2, holds: 'at least' }
    : { ...loadMeasure(load, null), limit: leftMa };
}

/** Of segments that share supplies another one may have one without a rating. */
function noRatings(balance: Balance): string | null {
  const isUnrated = balance.segment.loads.length > 0 && balance.parts.some(({ usableUa }) => usableUa === null);
  return noCapacity(balance) ?? (isUnrated ? 'the rating of a supply is not declared' : null);
}

/** The circuits do not matter where the supplies are too few already. */
function noCircuits(balance: Balance, site: Site | null): string | null {
  if (balance.segment.loads.length === 0 || hasBattery(balance) || weakSupply(balance) !== null) return null;
  const areKnown = suppliesOf(balance).every((supply) => circuitOf(supply, site) !== null);
  if (!areKnown) return 'the mains circuit of each supply, or a battery that carries them';
  return isBatteryOpen(balance) && weakCircuit(balance, site) !== null
    ? 'how long the battery carries the segment'
    : null;
}

function weaknessOf(balance: Balance, site: Site | null): Weakness | null {
  if (balance.segment.loads.length === 0) return null;
  return weakSupply(balance) ?? (hasBattery(balance) ? null : weakCircuit(balance, site));
}

function weakSupply({ parts }: Balance): Weakness | null {
  const left = parts.map((part) => ({
    part,
    leftUa: withoutGreatest(part.supplies.map(({ ratingUa }) => ratingUa ?? 0)),
  }));
  const worst = mostLacking(left);
  return worst && { of: 'largest supply', ...worst };
}

function weakCircuit({ parts }: Balance, site: Site | null): Weakness | null {
  const all = parts.map((part) => ({ part, circuits: byCircuit(part, site) }));
  const single = all.find(({ circuits }) => circuits.length === 1);
  if (single !== undefined) return { of: 'only mains circuit', part: single.part };
  const worst = mostLacking(all.map(({ part, circuits }) => ({ part, leftUa: withoutGreatest(circuits) })));
  return worst && { of: 'largest mains circuit', ...worst };
}

/**
 * What is rated on each mains circuit, µA. Boards number their circuits each for itself, so that F1 of one is not F1 of
 * another; a supply on a board that is not known is taken to be on the one where it weighs most.
 */
function byCircuit({ supplies }: Carried, site: Site | null): number[] {
  const onCircuit = new Map<string | null, Map<string | null, number>>();
  for (const supply of supplies) {
    const [circuit, board] = [circuitOf(supply, site), boardOf(supply, site)];
    const boards = onCircuit.get(circuit) ?? new Map<string | null, number>();
    boards.set(board, (boards.get(board) ?? 0) + (supply.ratingUa ?? 0));
    onCircuit.set(circuit, boards);
  }
  return [...onCircuit.values()].flatMap((boards) => {
    const unknownUa = boards.get(null) ?? 0;
    const known = [...boards].flatMap(([board, ua]) => (board === null ? [] : [ua])).sort((a, b) => b - a);
    return [(known[0] ?? 0) + unknownUa, ...known.slice(1)];
  });
}

interface Left {
  readonly part: Carried;
  readonly leftUa: number;
}

/** Where the most is lacking once something fails; null where nothing is. */
function mostLacking(all: readonly Left[]): Left | null {
  const lacking = ({ part, leftUa }: Left) => part.load.totalUa - leftUa;
  const [worst] = [...all].sort((a, b) => lacking(b) - lacking(a));
  return worst !== undefined && lacking(worst) > 0 ? worst : null;
}

function suppliesOf({ parts }: Balance): Supply[] {
  return [...new Set(parts.flatMap(({ supplies }) => supplies))];
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

function withoutGreatest(ratingsUa: readonly number[]): number {
  return sum(ratingsUa) - greatest(ratingsUa);
}

/** One that holds the wanted time. */
function hasBattery({ onSite }: Balance): boolean {
  return onSite?.entry.holdUp?.battery != null && onSite.holdUp?.holds === true;
}

/** There is one, but not enough is known of it to tell whether it holds. */
function isBatteryOpen({ onSite }: Balance): boolean {
  return onSite?.entry.holdUp?.battery != null && onSite.holdUp?.holds === null;
}
