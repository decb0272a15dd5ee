import { segmentLabel } from '../plant/plant.js';
import type { StaleName } from '../site/site.js';
import { installationRule } from './rule.js';
import { list } from './words.js';

export const siteSheetStale = installationRule({
  id: 'site-sheet-stale',
  title: 'The site sheet names what the archive no longer holds',
  severity: 'warning',
  why: 'The sheet was written for another state of the project. What it says of things that are gone is not applied, so lengths and places that were known are missing.',
  remedy: 'Bring the site sheet up to date with the archive.',
  limit: 'every name of the site sheet is one of the archive',
  basis: 'derived',
  source: 'derived here: a sheet carries the digest of the archive that it was written for',
  missing: (_, { site }) => (site === null ? 'a site sheet' : null),
  *check({ site, installation, balances }) {
    for (const [segmentId, names] of bySegment(site?.stale ?? [])) {
      const segment = balances.find((balance) => balance.segment.id === segmentId)?.segment;
      const label = segment === undefined ? null : segmentLabel(segment);
      yield {
        subject: {
          kind: segment === undefined ? 'project' : 'segment',
          id: segment?.id ?? `site sheet of ${installation.part}`,
          label: label ?? 'the site sheet',
          place: { line: segment?.sourceLine ?? undefined },
        },
        segments: segment === undefined ? [] : [segment],
        measure: { quantity: 'names without a match', unit: 'names', value: names.length, limit: 0, holds: 'at most' },
        restsOn: 'declared',
        facts: {
          segment: label,
          names: names.map(({ place, kind, name, nearest, now }) => ({ place, kind, name, nearest, now })),
        },
      };
    }
  },
  message: (f) =>
    `The site sheet${f.segment === null ? '' : ` for line ${f.segment}`} names ${list(f.names.map(({ kind, name, now }) => `the ${kind} ${name}${now === null ? '' : ` (it is ${now})`}`))}, which the archive does not have${f.names.some(({ now }) => now !== null) ? ' there' : ''}; what it says of ${f.names.length === 1 ? 'it' : 'them'} is not applied.`,
  advice: (f) =>
    `Correct or remove ${list(f.names.map(({ place, nearest }) => (nearest.length === 0 ? place : `${place} (nearest: ${list(nearest)})`)))}, then write the digest of this archive into the sheet (archive).`,
});

/** By the segment in whose entry they stand, null for those of the sheet itself. */
function bySegment(names: readonly StaleName[]): Map<string | null, StaleName[]> {
  const grouped = new Map<string | null, StaleName[]>();
  for (const name of names) {
    const known = grouped.get(name.segment);
    if (known === undefined) grouped.set(name.segment, [name]);
    else known.push(name);
  }
  return grouped;
}
