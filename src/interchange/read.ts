import type { Archive, Part } from '../archive/archive.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { NOBODY, type Tell } from '../progress.js';
import { sum } from '../units.js';
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
 * @param tell told of the bytes that are read, of all that are to be
 * @throws InputError where a part that is needed is missing, damaged, malformed or over a limit
 */
export async function readProjects(archive: Archive, limits: Limits, tell: Tell = NOBODY): Promise<ProjectRecord[]> {
  const found = findProjects(archive);
  const reader = new ProjectReader(archive, limits, new BytesRead(found, tell));
  const projects: ProjectRecord[] = [];
  for (const parts of found) projects.push(await reader.read(parts));
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
    readonly bytes: BytesRead,
  ) {}

  async read(parts: ProjectParts): Promise<ProjectRecord> {
    const { information, masterData, hardware } = parts;
    const { schema, installations } = await this.#installations(parts);
    return {
      id: parts.id,
      name: information && (await this.#nameOf(information)),
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
      const pieces = this.bytes.counted(this.archive.stream(part, 'topologyBytes'));
      const document = await readTopology(pieces, part.name, this.limits);
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

  async #nameOf(information: Part): Promise<string | undefined> {
    const name = await readProjectName(this.archive, information, this.limits);
    this.bytes.add(information.bytes);
    return name;
  }

  async #productsOf(hardware: readonly Part[]): Promise<ReadonlyMap<string, ProductRecord>> {
    const known = this.#products.get(hardware);
    if (known !== undefined) return known;
    const products = new Map<string, ProductRecord>();
    for (const part of hardware) {
      addProducts(products, await readHardware(this.archive, part, this.limits), part.name);
      this.bytes.add(part.bytes);
    }
    this.#products.set(hardware, products);
    return products;
  }

  async #namesOf(part: Part): Promise<ReadonlyMap<string, string>> {
    const known = this.#names.get(part);
    if (known !== undefined) return known;
    const names = await readMasterNames(this.archive, part, this.limits);
    this.bytes.add(part.bytes);
    this.#names.set(part, names);
    return names;
  }
}

/**
 * Counts the bytes that are read, as the archive declares them, against all that are to be: of topology documents piece
 * by piece, as they are most of an archive, of every other part at its end.
 */
class BytesRead {
  readonly #all: number;
  #read = 0;

  constructor(
    found: readonly ProjectParts[],
    readonly tell: Tell,
  ) {
    const parts = found.flatMap(({ information, installations, hardware, masterData }) => [
      ...[information, masterData].filter((part) => part !== undefined),
      ...installations,
      ...hardware,
    ]);
    this.#all = sum([...new Set(parts)].map(({ bytes }) => bytes));
  }

  add(bytes: number): void {
    this.#read += bytes;
    this.tell(this.#read / this.#all);
  }

  async *counted(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    for await (const piece of pieces) {
      const { length } = piece; // its memory is gone once it is read
      yield piece;
      this.add(length);
    }
  }
}
