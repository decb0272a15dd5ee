import { segmentLabel } from '../plant/plant.js';
import type { StaleName } from '../site/site.js';
import { installationRule } from './rule.js';

export const siteSheetStale = installationRule({
  id: 'site-sheet-stale',
  severity: 'warning',
  basis: 'derived',
  missing: (_, { site, words }) => (site === null ? words.missing.siteSheet : null),
  *check({ site, installation, balances, words }) {
    for (const [segmentId, names] of bySegment(site?.stale ?? [])) {
      const segment = balances.find((balance) => balance.segment.id === segmentId)?.segment;
      const label = segment === undefined ? null : segmentLabel(segment);
      yield {
        subject: {
          kind: segment === undefined ? 'project' : 'segment',
          id: segment?.id ?? `site sheet of ${installation.part}`,
          label: label ?? words.facts.theSiteSheet,
          place: { line: segment?.sourceLine ?? undefined },
        },
        segments: segment === undefined ? [] : [segment],
        measure: {
          quantity: words.facts.quantities.namesWithoutMatch,
          unit: 'names',
          value: names.length,
          limit: 0,
          holds: 'at most',
        },
        restsOn: 'declared',
        facts: {
          segment: label,
          names: names.map(({ place, kind, name, nearest, now }) => ({ place, kind, name, nearest, now })),
        },
      };
    }
  },
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
