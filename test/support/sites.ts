import { buildProject } from '../../src/plant/build.js';
import { type Project, segmentLabel, segmentsOf } from '../../src/plant/plant.js';
import { COMMON_PRACTICE } from '../../src/policy/built-in.js';
import { type ResolvedSite, resolveSite } from '../../src/site/resolve.js';
import { readSheet } from '../../src/site/sheet.js';
import type { SegmentSite, Site } from '../../src/site/site.js';
import { type PlantSpec, recordOf } from './plants.js';
import { refusalOf } from './refusal.js';

export const THIS = 'a'.repeat(64);
export const ANOTHER = 'b'.repeat(64);

export const projectOf = (plant: PlantSpec): Project => buildProject(recordOf(plant), COMMON_PRACTICE);

/** What a sheet, as a value or a text, says of plants; the archive is {@link THIS}. */
export async function siteOf(sheet: unknown, ...plants: readonly PlantSpec[]): Promise<ResolvedSite> {
  const source = typeof sheet === 'string' ? sheet : JSON.stringify(sheet);
  return resolveSite(plants.map(projectOf), await readSheet(source, 'site.yaml'), THIS);
}

/** Why a sheet is refused. */
export async function siteFault(sheet: unknown, ...plants: readonly PlantSpec[]): Promise<string> {
  const { code, detail, place } = await refusalOf(() => siteOf(sheet, ...plants));
  if (code !== 'invalid-site-sheet' || place.part !== 'site.yaml') throw new Error(`another refusal: ${code}`);
  return detail;
}

/** What the sheet says of the first installation. */
export function firstSite({ sites }: ResolvedSite): Site {
  const [site] = sites.values();
  if (site === undefined) throw new Error('no installation');
  return site;
}

/** What the sheet says of the segment that people call so, in the first installation. */
export function saidOf(resolved: ResolvedSite, label: string): SegmentSite {
  const said = firstSite(resolved).segments.get(segmentIn(resolved, label).id);
  if (said === undefined) throw new Error(`nothing is said of ${label}`);
  return said;
}

export function segmentIn({ projects }: Pick<ResolvedSite, 'projects'>, label: string) {
  const all = projects.flatMap(({ installations }) => installations.flatMap(segmentsOf));
  const found = all.find((segment) => segmentLabel(segment) === label);
  if (found === undefined) throw new Error(`no segment ${label}`);
  return found;
}
