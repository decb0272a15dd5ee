import { quoted } from '../errors.js';
import type { Installation, Project, Segment, Supply } from '../plant/plant.js';
import { type FedPlant, type Feeds, withFeeds } from './feeds.js';
import { Misses } from './misses.js';
import { Scope, SegmentNames, supplyNamed } from './scope.js';
import { type Meter, type SegmentEntry, segmentSite } from './segment-site.js';
import type { SheetSupply, SiteSheet } from './sheet.js';
import type { SegmentSite, Site, StaleName, SupplySite } from './site.js';

/** The plant as a sheet has it fed, and what the sheet says of each installation. */
export interface ResolvedSite {
  readonly projects: readonly Project[];
  /** By the installations of {@link projects}. */
  readonly sites: ReadonlyMap<Installation, Site>;
}

/**
 * Holds a sheet against the plant: finds what it names, and feeds the segments by the supplies that it states.
 * @param staleLines what parting lines found to be stale already
 * @throws InputError `invalid-site-sheet` with place, name and the nearest names for each fault. Names that are not there
 * are no fault of a sheet for another state of the archive: then they are stale.
 */
export function resolveSite(
  projects: readonly Project[],
  sheet: SiteSheet,
  archiveSha256: string,
  staleLines: readonly StaleName[] = [],
): ResolvedSite {
  const scopes = projects.flatMap(({ installations }) => installations.map((one) => new Scope(one)));
  const misses = new Misses(sheet, archiveSha256);
  const entries = segmentEntries(sheet, scopes, misses);
  const fed = withFeeds(projects, statedFeeds(entries, misses));
  const meter: Meter = new Map();
  const segments = entries.map((given) => {
    const segment = fed.segmentOf.get(given.segment) ?? given.segment;
    return { scope: given.scope, id: segment.id, site: segmentSite({ ...given, segment }, misses, meter) };
  });
  const supplies = supplyEntries(sheet, scopes, misses);
  misses.refuse();
  const stale = [...staleLines, ...misses.stale];
  return { projects: fed.projects, sites: sitesOf({ scopes, segments, supplies, stale, fed }) };
}

function segmentEntries({ segments }: SiteSheet, scopes: readonly Scope[], misses: Misses): SegmentEntry[] {
  const all = new SegmentNames(scopes);
  const seen = new Set<Segment>();
  return segments.flatMap((entry, index): SegmentEntry[] => {
    const { segment: name } = entry;
    const place = `segments[${index}]`;
    const found = all.find(name);
    const [only, ...others] = found;
    if (only === undefined) {
      const names = () => all.labels();
      misses.gone({ place: `${place}.segment`, kind: 'segment', name, said: 'no segment of the archive', names });
    } else if (others.length > 0) {
      const ids = found.map(({ segment }) => segment.id);
      misses.ambiguous(`${place}.segment`, name, ids, 'name the segment by its id');
    } else if (!only.segment.medium.needsPower) {
      const { medium } = only.segment;
      misses.wrong(`${place}.segment`, `${quoted(name)} is on the medium ${medium.name}, which carries no bus power`);
    } else if (seen.has(only.segment)) {
      misses.wrong(`${place}.segment`, 'the segment has an entry already, under another name');
    } else {
      seen.add(only.segment);
      return [{ entry, place, ...only }];
    }
    return [];
  });
}

/** The feeds that the sheet states, null where one of its names is stale. */
function statedFeeds(entries: readonly SegmentEntry[], misses: Misses): Feeds {
  const feeds = new Map<Segment, readonly Supply[] | null>();
  for (const { entry, place, segment, scope } of entries) {
    if (entry.fedBy === undefined) continue;
    const found = entry.fedBy.map((name, index) => {
      const mention = { name, place: `${place}.fedBy[${index}]`, segment: segment.id };
      const device = supplyNamed(mention, [scope], misses);
      return device === null ? undefined : scope.supplyOf(device);
    });
    const supplies = found.filter((supply) => supply !== undefined);
    if (new Set(supplies).size < supplies.length) misses.wrong(`${place}.fedBy`, 'a supply is there under two names');
    feeds.set(segment, supplies.length === found.length ? supplies : null);
  }
  return feeds;
}

interface FoundSupply {
  readonly scope: Scope | undefined;
  readonly id: string;
  readonly site: SupplySite;
}

function supplyEntries({ supplies }: SiteSheet, scopes: readonly Scope[], misses: Misses): FoundSupply[] {
  const seen = new Set<object>();
  return supplies.flatMap((entry, index) => {
    const place = `supplies[${index}]`;
    const at = `${place}.supply`;
    const device = supplyNamed({ name: entry.supply, place: at, segment: null }, scopes, misses);
    if (device === null) return [];
    if (seen.has(device)) misses.wrong(at, 'the supply has an entry already, under another name');
    seen.add(device);
    const scope = scopes.find((one) => one.supplyOf(device) !== undefined);
    return [{ scope, id: device.id, site: supplySite(entry, place) }];
  });
}

function supplySite(entry: SheetSupply, place: string): SupplySite {
  return {
    place,
    mainsCircuit: entry.mainsCircuit ?? null,
    board: entry.board ?? null,
    terminalV: entry.terminalVoltage ?? null,
    leastTerminalV: entry.leastTerminalVoltage ?? null,
    sourceOhm: entry.sourceResistance ?? null,
    limitUa: entry.currentLimit ?? null,
    choke: entry.choke ?? null,
  };
}

interface Found {
  readonly scopes: readonly Scope[];
  readonly segments: readonly { readonly scope: Scope; readonly id: string; readonly site: SegmentSite }[];
  readonly supplies: readonly FoundSupply[];
  readonly stale: readonly StaleName[];
  readonly fed: FedPlant;
}

/** Stale names go with the installation of their segment, else with the first one. */
function sitesOf({ scopes, segments, supplies, stale, fed }: Found): Map<Installation, Site> {
  const [first] = scopes;
  const scopeOf = new Map(segments.map(({ scope, id }) => [id, scope]));
  const homeOf = ({ segment }: StaleName) => (segment === null ? first : (scopeOf.get(segment) ?? first));
  return new Map(
    scopes.flatMap((scope) => {
      const installation = fed.installationOf.get(scope.installation);
      if (installation === undefined) return [];
      const own = <T extends { readonly scope: Scope | undefined; readonly id: string; readonly site: S }, S>(
        all: readonly T[],
      ) => new Map(all.filter((one) => one.scope === scope).map(({ id, site }): [string, S] => [id, site]));
      const site: Site = {
        segments: own<(typeof segments)[number], SegmentSite>(segments),
        supplies: own<FoundSupply, SupplySite>(supplies),
        stale: stale.filter((name) => homeOf(name) === scope),
      };
      return [[installation, site] as const];
    }),
  );
}
