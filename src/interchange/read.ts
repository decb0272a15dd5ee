import type { Archive, Part } from '../archive/archive.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { indexProducts, readHardware } from './hardware.js';
import { readMasterNames, readProjectName } from './names.js';
import { findProjects, installationNumber, type ProjectParts } from './parts.js';
import type { InstallationRecord, ProductRecord, ProjectRecord } from './records.js';
import { readTopology } from './topology.js';

/** The schema numbers whose form is known; what lies outside is read as the nearest of them, and said so. */
export const KNOWN_SCHEMAS: ReadonlySet<number> = new Set([10, 11, 12, 13, 14, 20, 21, 22, 23]);

/** From this schema on devices stand on segments, before on the line. */
export const FIRST_SCHEMA_WITH_SEGMENTS = 21;

/**
 * Reads every project of an archive.
 * @throws InputError where a part that is needed is missing, damaged, malformed or over a limit
 */
export async function readProjects(archive: Archive, limits: Limits): Promise<ProjectRecord[]> {
  const projects: ProjectRecord[] = [];
  for (const parts of findProjects(archive)) projects.push(await readProject(archive, parts, limits));
  return projects;
}

async function readProject(archive: Archive, parts: ProjectParts, limits: Limits): Promise<ProjectRecord> {
  const { information, masterData } = parts;
  const installations: InstallationRecord[] = [];
  let id: string | undefined;
  let schema = 0;
  for (const part of parts.installations) {
    const document = await readTopology(archive.stream(part, 'topologyBytes'), part.name, limits);
    id ??= document.projectId;
    schema = Math.max(schema, document.schema);
    installations.push(...numbered(document.installations, part));
  }
  return {
    id: id ?? parts.id,
    name: information && (await readProjectName(archive, information, limits)),
    schema,
    installations,
    products: await readProducts(archive, parts, limits),
    names: masterData ? await readMasterNames(archive, masterData, limits) : new Map(),
  };
}

function numbered(found: readonly Omit<InstallationRecord, 'number'>[], part: Part): InstallationRecord[] {
  if (found.length === 0) {
    throw new InputError('no-project', 'the document holds no Installation', { part: part.name });
  }
  return found.map((installation, index) => ({ ...installation, number: installationNumber(part) + index }));
}

async function readProducts(archive: Archive, { hardware }: ProjectParts, limits: Limits) {
  const products: ProductRecord[] = [];
  for (const part of hardware) products.push(...(await readHardware(archive, part, limits)));
  return indexProducts(products, hardware.length === 1 ? hardware[0] : undefined);
}
