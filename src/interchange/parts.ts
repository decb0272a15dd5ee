import type { Archive, Part } from '../archive/archive.js';
import { InputError, quoted } from '../errors.js';

/** The parts of one project that the audit reads, found by their names wherever they stand in the archive. */
export interface ProjectParts {
  readonly id: string;
  readonly information: Part | undefined;
  /** In the order of their numbers. */
  readonly installations: readonly Part[];
  /** Hardware parts of the same export; one array for all of its projects. */
  readonly hardware: readonly Part[];
  readonly masterData: Part | undefined;
}

const FOLDER = '(?<root>(?:.*/)?)';
const IN_PROJECT = new RegExp(`^${FOLDER}(?<id>p-[0-9a-f]{4})/(?:(?<number>[0-9]{1,3})|project)\\.xml$`);
const PROTECTED = new RegExp(`^${FOLDER}p-[0-9a-f]{4}\\.zip$`);
const HARDWARE = new RegExp(`^${FOLDER}m-[0-9a-f]{4}/hardware\\.xml$`);
const MASTER_DATA = new RegExp(`^${FOLDER}knx_master\\.xml$`);

/** What lies in one folder of the archive as an export of its own. */
interface Export {
  readonly root: string;
  readonly projects: Map<string, { information: Part | undefined; installations: Part[] }>;
  readonly hardware: Part[];
  masterData: Part | undefined;
}

/**
 * Finds the projects of an archive.
 * @throws InputError `protected-project`, `no-project`, or `ambiguous-part` where one project is there twice
 */
export function findProjects({ parts }: Archive): ProjectParts[] {
  refuseProtected(parts);
  const exports = exportsOf(parts);
  const found = exports.flatMap(projectsOf);
  if (found.length === 0) {
    throw new InputError(
      'no-project',
      `looked for a topology document P-XXXX/0.xml (XXXX four hexadecimal digits) among ${parts.length} ${parts.length === 1 ? 'part' : 'parts'} and found none; upload the project archive as the commissioning software exports it`,
    );
  }
  refuseTwice(exports);
  return found;
}

/** The number that the part's name gives an installation. */
export function installationNumber({ path }: Part): number {
  return Number(IN_PROJECT.exec(path)?.groups?.number ?? 0);
}

/** Sorts the parts by where they stand and what they are, in the order of their paths. */
function exportsOf(parts: readonly Part[]): Export[] {
  const exports = new Map<string, Export>();
  const at = (root: string): Export => {
    const known = exports.get(root) ?? { root, projects: new Map(), hardware: [], masterData: undefined };
    exports.set(root, known);
    return known;
  };
  for (const part of [...parts].sort((a, b) => (a.path < b.path ? -1 : 1))) {
    const inProject = IN_PROJECT.exec(part.path)?.groups;
    if (inProject !== undefined) addToProject(at(inProject.root ?? ''), inProject, part);
    const hardware = HARDWARE.exec(part.path)?.groups;
    if (hardware !== undefined) at(hardware.root ?? '').hardware.push(part);
    const masterData = MASTER_DATA.exec(part.path)?.groups;
    if (masterData !== undefined) at(masterData.root ?? '').masterData = part;
  }
  return [...exports.values()];
}

function addToProject({ projects }: Export, { id = '', number }: Record<string, string | undefined>, part: Part): void {
  const project = projects.get(id) ?? { information: undefined, installations: [] };
  if (number === undefined) project.information = part;
  else project.installations.push(part);
  projects.set(id, project);
}

function projectsOf({ projects, hardware, masterData }: Export): ProjectParts[] {
  return [...projects].map(([folder, { information, installations }]) => {
    const id = folder.toUpperCase();
    if (installations.length === 0) {
      throw new InputError('no-project', `project ${id} has no topology document ${id}/0.xml`);
    }
    const inOrder = installations.sort((a, b) => installationNumber(a) - installationNumber(b));
    return { id, information, installations: inOrder, hardware, masterData };
  });
}

/** A report names projects by their ids. */
function refuseTwice(exports: readonly Export[]): void {
  const seen = new Map<string, string>();
  for (const { root, projects } of exports) {
    for (const id of projects.keys()) {
      const other = seen.get(id);
      if (other !== undefined) {
        throw new InputError(
          'ambiguous-part',
          `the project ${id.toUpperCase()} is in the archive twice, in ${quoted(`/${other}`)} and in ${quoted(`/${root}`)}; upload the two exports one by one`,
        );
      }
      seen.set(id, root);
    }
  }
}

function refuseProtected(parts: readonly Part[]): void {
  const locked = parts.find(({ path }) => PROTECTED.test(path));
  if (locked === undefined) return;
  throw new InputError('protected-project', 'the project is protected by a password; export it without a password', {
    part: locked.name,
  });
}
