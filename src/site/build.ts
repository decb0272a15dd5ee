import type { ProjectRecord } from '../interchange/records.js';
import { buildProject } from '../plant/build.js';
import type { Policy } from '../policy/policy.js';
import { type ResolvedSite, resolveSite } from './resolve.js';
import type { SiteSheet } from './sheet.js';
import { splitLines } from './split-lines.js';

/**
 * The plant as the archive and the site sheet have it. The sheet parts lines before the plant is built, which then
 * charges couplers and repeaters to the right segments, and feeds segments and places devices after it is.
 * @param sheet null where none is given: then the plant is what the archive says
 * @throws InputError `invalid-site-sheet`
 */
export function buildPlant(
  records: readonly ProjectRecord[],
  policy: Policy,
  sheet: SiteSheet | null,
  archiveSha256: string,
): ResolvedSite {
  if (sheet === null) return { projects: records.map((record) => buildProject(record, policy)), sites: new Map() };
  const split = splitLines(records, sheet, archiveSha256);
  const projects = split.records.map((record) => buildProject(record, policy));
  return resolveSite(projects, sheet, archiveSha256, split.stale);
}
