import type { ProjectRecord } from '../interchange/records.js';
import { buildProject } from '../plant/build.js';
import type { Policy } from '../policy/policy.js';
import { type ResolvedSite, resolveSite } from './resolve.js';
import type { SiteSheet } from './sheet.js';
import { splitLines } from './split-lines.js';

/** What is done to the records between the sheet's parting of lines and the building of the plant. */
export type RecordsEdit = (records: readonly ProjectRecord[]) => readonly ProjectRecord[];

/**
 * The plant as the archive and the site sheet have it. The sheet parts lines before the plant is built, which then
 * charges couplers and repeaters to the right segments, and feeds segments and places devices after it is.
 * @param sheet null where none is given: then the plant is what the archive says
 * @param edit whose errors pass through
 * @throws InputError `invalid-site-sheet`
 */
export function buildPlant(
  records: readonly ProjectRecord[],
  policy: Policy,
  sheet: SiteSheet | null,
  archiveSha256: string,
  edit: RecordsEdit = (same) => same,
): ResolvedSite {
  if (sheet === null)
    return { projects: edit(records).map((record) => buildProject(record, policy)), sites: new Map() };
  const split = splitLines(records, sheet, archiveSha256);
  const projects = edit(split.records).map((record) => buildProject(record, policy));
  return resolveSite(projects, sheet, archiveSha256, split.stale);
}
