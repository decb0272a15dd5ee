import type { Archive, Part } from '../archive/archive.js';
import { InputError, quoted } from '../errors.js';

/** The parts of one project that the audit reads, found by their names wherever they stand in the archive. */
export interface ProjectParts {
  readonly id: string;
  readonly information: Part | undefined;
  readonly installations: readonly Part[];
  /** Hardware parts of the same export. */
  readonly hardware: readonly Part[];
  readonly masterData: Part | undefined;
}

const FOLDER = '(?<root>(?:.*/)?)';
const INSTALLATION = new RegExp(`^${FOLDER}(?<id>p-[0-9a-f]{4})/(?<number>[0-9]{1,3})\\.xml$`);
const INFORMATION = new RegExp(`^${FOLDER}(?<id>p-[0-9a-f]{4})/project\\.xml$`);
const PROTECTED = new RegExp(`^${FOLDER}(?<id>p-[0-9a-f]{4})\\.zip$`);
const HARDWARE = new RegExp(`^${FOLDER}m-[0-9a-f]{4}/hardware\\.xml$`);
const MASTER_DATA = new RegExp(`^${FOLDER}knx_master\\.xml$`);

/**
 * Finds the projects of an archive.
 * @throws InputError `protected-project` or `no-project`
 */
export function findProjects(archive: Archive): ProjectParts[] {
  refuseProtected(archive);
  const inRoot = (pattern: RegExp, root: string) =>
    archive.parts.filter(({ path }) => pattern.exec(path)?.groups?.root === root);
  const folders = projectFolders(archive);
  refuseTwice(folders);
  return folders.map(({ root, id }) => {
    const of = (pattern: RegExp) => inRoot(pattern, root).filter(({ path }) => pattern.exec(path)?.groups?.id === id);
    const installations = of(INSTALLATION).sort((a, b) => installationNumber(a) - installationNumber(b));
    if (installations.length === 0) {
      throw new InputError(
        'no-project',
        `project ${id.toUpperCase()} has no topology document ${id.toUpperCase()}/0.xml`,
      );
    }
    return {
      id: id.toUpperCase(),
      information: of(INFORMATION)[0],
      installations,
      hardware: inRoot(HARDWARE, root).sort((a, b) => (a.path < b.path ? -1 : 1)),
      masterData: inRoot(MASTER_DATA, root)[0],
    };
  });
}

/** The number that the part's name gives an installation. */
export function installationNumber({ path }: Part): number {
  return Number(INSTALLATION.exec(path)?.groups?.number ?? 0);
}

interface ProjectFolder {
  readonly root: string;
  readonly id: string;
}

function projectFolders({ parts }: Archive): ProjectFolder[] {
  const found = new Map<string, ProjectFolder>();
  for (const { path } of parts) {
    const { root, id } = (INSTALLATION.exec(path) ?? INFORMATION.exec(path))?.groups ?? {};
    if (root !== undefined && id !== undefined) found.set(`${root}${id}`, { root, id });
  }
  if (found.size === 0) {
    throw new InputError(
      'no-project',
      `looked for a topology document P-XXXX/0.xml (XXXX four hexadecimal digits) among ${parts.length} parts and found none; upload the project archive as the commissioning software exports it`,
    );
  }
  return [...found.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, folder]) => folder);
}

/** A report names projects by their ids. */
function refuseTwice(folders: readonly ProjectFolder[]): void {
  const seen = new Map<string, ProjectFolder>();
  for (const folder of folders) {
    const other = seen.get(folder.id);
    if (other !== undefined) {
      throw new InputError(
        'ambiguous-part',
        `the project ${folder.id.toUpperCase()} is in the archive twice, in ${quoted(`/${other.root}`)} and in ${quoted(`/${folder.root}`)}; upload the two exports one by one`,
      );
    }
    seen.set(folder.id, folder);
  }
}

function refuseProtected({ parts }: Archive): void {
  const locked = parts.find(({ path }) => PROTECTED.test(path));
  if (locked === undefined) return;
  throw new InputError(
    'protected-project',
    `the project in ${quoted(locked.name)} is protected by a password; export it without a password`,
    { part: locked.name },
  );
}
