import { fileURLToPath } from 'node:url';
import { Archive } from '../../src/archive/archive.js';
import { readDirectory } from '../../src/archive/directory.js';
import { InputError, type InputFault } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { contentOf } from './archives.js';
import { pythonFed } from './python.js';

const READER = fileURLToPath(new URL('../outside/zip_reader.py', import.meta.url));

/** The entries of an archive in the order of its directory; a folder has no content. */
export type ZipEntries = readonly (readonly [name: string, bytes: number, content: string])[];

/** What Python's zipfile reads of each archive, in one process; undefined where it cannot read all of it. */
export function readByPython(files: readonly Buffer[]): (ZipEntries | undefined)[] {
  const input = files.map((file) => file.toString('base64'));
  const found = JSON.parse(pythonFed(JSON.stringify(input), READER).toString()) as (
    | [string, number, string][]
    | null
  )[];
  return found.map((entries) =>
    entries?.map(([name, bytes, content]) => [name, bytes, Buffer.from(content, 'base64').toString('latin1')]),
  );
}

/** What is read here: every part, or the code of the first refusal. */
export async function readHere(file: Buffer): Promise<ZipEntries | InputFault> {
  try {
    const archive = Archive.open(file, DEFAULT_LIMITS);
    const contents = new Map<string, string>();
    for (const part of archive.parts) contents.set(part.name, (await contentOf(archive, part)).toString('latin1'));
    return readDirectory(file, DEFAULT_LIMITS).map(({ name, bytes }) => [name, bytes, contents.get(name) ?? '']);
  } catch (error) {
    if (error instanceof InputError) return error.code;
    throw error;
  }
}
