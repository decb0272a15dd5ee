import { figures } from './sentences.js';

const { number } = figures;

/** The fact that is missing where a rule judges nothing, as coverage names it. */
export const missing = {
  noPower: (medium: string) => `the medium ${medium} carries no bus power`,
  boundaries: 'the export does not say which of several electrical segments a device is on',
  feed: 'the supply that feeds the segment is not known',
  noSupply: 'there is no supply',
  notTogether: 'the supplies may not stand on one segment together',
  rating: 'the rating of a supply is not declared',
  cableWithoutSheet: 'the length of its cable: give a site sheet',
  cableWithoutEntry: 'the length of its cable: the site sheet has no entry for the segment',
  siteSheet: 'a site sheet',
  voltageLength: 'the length of the cable, or what feeds it: the site sheet does not say',
  voltageBeyondSupply: 'a supply that carries the load: no voltage can be promised beyond its limit',
  voltageBetween: (f: { low: string | null; high: string | null; wanted: readonly string[] }) =>
    `at the least voltage of the supply the lowest voltage lies between ${f.low ?? 'nothing that can be bounded'} and ${f.high ?? 'none at all'}; to decide it: ${f.wanted.join('; ') || 'where devices and supplies sit'}`,
  holdUpWithoutSheet: 'whether a hold-up time is wanted: no site sheet says so',
  holdUpUnsaid: 'whether a hold-up time is wanted: the site sheet does not say',
  batteryCapacity: (f: { neededAh: number; batteryV: number }) =>
    `the capacity of a battery: ${number(f.neededAh)} Ah at ${number(f.batteryV)} V are needed`,
  batteryInCold: (coldestC: number) => `how much the battery gives below ${number(coldestC)} °C`,
  sharedChoke: 'whether the supplies share a choke',
  criticalWithoutSheet: 'whether the segment is critical: no site sheet says so',
  criticalUnsaid: 'whether the segment is critical: the site sheet does not say',
  circuits: 'the mains circuit of each supply, or a battery that carries them',
  batteryTime: 'how long the battery carries the segment',
  reportingWithoutSheet: 'whether its supplies have to report: no site sheet says so',
  reportingUnsaid: 'whether its supplies have to report: the site sheet does not say',
  measuredWithoutSheet: 'measured values: no site sheet has any',
  measured: 'measured values: the site sheet has none',
  toMeasure: 'a supply, or devices to feed',
  connected: 'which devices are connected: the archive marks none as loaded, and the site sheet does not say',
  comparable:
    'what the measured values can be held against: the runs of the cable and its places, or the current of every supply',
  /** What would narrow a length down, with what it lies between so far. */
  length: (f: { wanted: readonly string[]; leastM: number | null; mostM: number | null }) =>
    `${f.wanted.join('; ')}${betweenText(f.leastM, f.mostM)}`,
};

function betweenText(leastM: number | null, mostM: number | null): string {
  if (mostM !== null) return leastM ? ` (between ${leastM} m and ${mostM} m so far)` : ` (at most ${mostM} m so far)`;
  return leastM ? ` (at least ${leastM} m so far)` : '';
}
