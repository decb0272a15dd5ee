import { readFile } from 'node:fs/promises';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { builtIn, type EffectivePolicy, isBuiltIn, readPolicy } from '../policy/effective.js';
import { readReport } from '../report/read.js';
import type { Report } from '../report/report.js';
import { isFileError, readArchive } from './archive-file.js';
import { CallError } from './usage.js';

/** One side of a comparison as its file has it. */
export type Compared = { readonly file: string } & ({ readonly archive: Uint8Array } | { readonly report: Report });

/**
 * Reads an archive or a JSON report, told apart by what the file begins with.
 * @throws CallError where it cannot be read
 */
export async function readCompared(file: string, limits: Limits): Promise<Compared> {
  return told(file, async () => {
    const bytes = await readArchive(file, limits);
    if (!beginsAsJson(bytes)) return { file, archive: bytes };
    return { file, report: readReport(new TextDecoder().decode(bytes), file) };
  });
}

/**
 * A policy by the name of a built-in one, or out of a file.
 * @throws CallError where it cannot be used
 */
export async function readNamedPolicy(name: string): Promise<EffectivePolicy> {
  if (isBuiltIn(name)) return builtIn(name);
  return told(name, async () => readPolicy(await readFile(name, 'utf8'), name));
}

const BLANKS = [0x20, 0x09, 0x0a, 0x0d];

function beginsAsJson(bytes: Uint8Array): boolean {
  return bytes.find((byte) => !BLANKS.includes(byte)) === '{'.charCodeAt(0);
}

async function told<T>(file: string, read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (cause) {
    if (isFileError(cause)) throw new CallError(`${file} cannot be read (${cause.code})`);
    if (!(cause instanceof InputError)) throw cause;
    const place = cause.place.part === undefined ? `${file}: ` : '';
    throw new CallError(`${place}${cause.message} [${cause.code}]`);
  }
}
