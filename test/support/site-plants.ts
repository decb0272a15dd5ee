import type { Layout, SegmentSite, Site, SupplySite } from '../../src/site/site.js';
import { layoutOf, type RunSpec, segmentSite } from './layouts.js';
import type { DeviceSpec, PlantSpec } from './plants.js';
import { BOUNDS_MISSING, BOUNDS_UNKNOWN, only, onMedium, UNPOWERED } from './rules.js';

/** What a sheet says of a segment; what is not given, it does not say. */
export const entryOf = segmentSite;

/** Ids as `plants.ts` makes them: the only segment of line 1.1 in new and old form, and devices by their order from 1. */
const ONLY_SEGMENT = 'P-0001-0_S-0-1';
const ONLY_LINE = 'P-0001-0_L-0';
const deviceId = (number: number) => `P-0001-0_DI-${number}`;

/** What a sheet says of segments, by id, and of supplies, by their order among the devices. */
export function siteOf(
  segments: { readonly [id: string]: SegmentSite },
  supplies: { readonly [number: number]: Partial<SupplySite> } = {},
): Site {
  return {
    segments: new Map(Object.entries(segments)),
    supplies: new Map(
      Object.entries(supplies).map(([number, said], at) => [deviceId(Number(number)), supplySite(said, at)]),
    ),
    stale: [],
  };
}

function supplySite(said: Partial<SupplySite>, at: number): SupplySite {
  return {
    place: `supplies[${at}]`,
    mainsCircuit: null,
    board: null,
    terminalV: null,
    leastTerminalV: null,
    sourceOhm: null,
    limitUa: null,
    choke: null,
    ...said,
  };
}

/** A plant of one new-form segment, line 1.1, with what a sheet says of it and of its supplies. */
export function onSite(
  devices: readonly DeviceSpec[],
  entry: Partial<SegmentSite>,
  { supplies = {}, policy = {} }: Pick<PlantSpec, 'policy'> & { readonly supplies?: Parameters<typeof siteOf>[1] } = {},
): PlantSpec {
  return { ...only(devices, policy), site: siteOf({ [ONLY_SEGMENT]: entryOf(entry) }, supplies) };
}

/** Where devices sit: the first device at the first of these points, and so on; null: not said. */
type At = readonly (number | null)[];

/** Points one after the other, so far apart, on cable of 73.2 Ω/km. */
export function lineLayout(lengthsM: readonly number[], at: At = []): Layout {
  return layoutOf(
    lengthsM.map((lengthM, from): RunSpec => [from, from + 1, lengthM]),
    placed(at),
  );
}

/** Points 1, 2, … around point 0, so far from it, on cable of 73.2 Ω/km. */
export function starLayout(lengthsM: readonly number[], at: At = []): Layout {
  return layoutOf(
    lengthsM.map((lengthM, arm): RunSpec => [0, arm + 1, lengthM]),
    placed(at),
  );
}

function placed(at: At): Record<string, number> {
  return Object.fromEntries(at.flatMap((point, before) => (point === null ? [] : [[deviceId(before + 1), point]])));
}

/**
 * Every way in which a rule that asks the sheet has nothing to go by, with the missing fact that coverage names.
 * @param entry that would have the rule judge the segment
 */
export function notOnSite(
  devices: readonly DeviceSpec[],
  entry: Partial<SegmentSite>,
  missing: { readonly noSheet: string; readonly noEntry: string },
): (readonly [what: string, plant: PlantSpec, missing: string])[] {
  const site = siteOf({ [ONLY_SEGMENT]: entryOf(entry), [ONLY_LINE]: entryOf(entry) });
  return [
    ...UNPOWERED.map(
      ([medium, text]) => [`the medium ${medium}`, { ...onMedium(medium, devices), site }, text] as const,
    ),
    ['bounds that the export does not say', { ...BOUNDS_UNKNOWN, site }, BOUNDS_MISSING],
    ['no sheet at all', only(devices), missing.noSheet],
    ['a sheet that has no entry for it', { ...only(devices), site: siteOf({}) }, missing.noEntry],
  ];
}

/** What the rules about cable miss where no sheet tells of it. */
export const NO_CABLE = {
  noSheet: 'the length of its cable: give a site sheet',
  noEntry: 'the length of its cable: the site sheet has no entry for the segment',
};

/** What the rules about wishes of the sheet miss where there is none. */
export const unwished = (missing: string) => ({ noSheet: missing, noEntry: missing });
