import type { Archive, Part } from '../archive/archive.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { addProducts, readHardware } from './hardware.js';
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
  const reader = new ProjectReader(archive, limits);
  const projects: ProjectRecord[] = [];
  for (const parts of findProjects(archive)) projects.push(await reader.read(parts));
  return projects;
}

/** Reads projects one by one; what several of them share is read once. */
class ProjectReader {
  /** By the product data of an export. */
  readonly #products = new Map<readonly Part[], ReadonlyMap<string, ProductRecord>>();
  readonly #names = new Map<Part, ReadonlyMap<string, string>>();

  constructor(
    readonly archive: Archive,
    readonly limits: Limits,
  ) {}

  async read(parts: ProjectParts): Promise<ProjectRecord> {
    const { information, masterData, hardware } = parts;
    const { schema, installations } = await this.#installations(parts);
    return {
      id: parts.id,
      name: information && (await readProjectName(this.archive, information, this.limits)),
      schema,
      installations,
      products: await this.#productsOf(hardware),
      names: masterData ? await this.#namesOf(masterData) : new Map(),
    };
  }

  async #installations(parts: ProjectParts) {
    const installations: InstallationRecord[] = [];
    let schema = 0;
    for (const part of parts.installations) {
      const document = await readTopology(this.archive.stream(part, 'topologyBytes'), part.name, this.limits);
      if (document.installations.length === 0) {
        throw new InputError('no-project', 'the document holds no Installation', { part: part.name });
      }
      schema = Math.max(schema, document.schema);
      for (const installation of document.installations) {
        const next = (installations.at(-1)?.number ?? -1) + 1;
        installations.push({ ...installation, number: Math.max(next, installationNumber(part)) });
      }
    }
    return { schema, installations };
  }

  async #productsOf(hardware: readonly Part[]): Promise<ReadonlyMap<string, ProductRecord>> {
    const known = this.#products.get(hardware);
    if (known !== undefined) return known;
    const products = new Map<string, ProductRecord>();
    for (const part of hardware) {
      addProducts(products, await readHardware(this.archive, part, this.limits), part.name);
    }
    this.#products.set(hardware, products);
    return products;
  }

  async #namesOf(part: Part): Promise<ReadonlyMap<string, string>> {
    const names = this.#names.get(part) ?? (await readMasterNames(this.archive, part, this.limits));
    this.#names.set(part, names);
    return names;
  }
}
