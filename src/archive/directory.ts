import type { Limits } from '../limits.js';
import { readCentral } from './central.js';
import { findDirectory } from './end-record.js';
import { DEFLATED } from './format.js';
import { locateData } from './local.js';
import { refuseSharedNames } from './names.js';
import { overLimit } from './refusal.js';

export interface Entry {
  /** The name as written, forward or backward slashes alike. */
  readonly name: string;
  /** One spelling of the name, see `normalisedPath`. */
  readonly path: string;
  readonly isDirectory: boolean;
  readonly isDeflated: boolean;
  readonly crc32: number;
  /** Inflated size, as declared. */
  readonly bytes: number;
  /** The data as it stands in the file. */
  readonly packed: Buffer;
}

/**
 * The structural check of a ZIP file (APPNOTE 6.3): one end record at the very end, a central directory that fills the
 * space before it exactly, local headers that agree with it, entries that fill the space before the directory exactly,
 * no name twice and none that leads elsewhere. It runs before anything is inflated. What other readers could read
 * differently is refused: nobody can tell then which reading the sender saw.
 *
 * @throws InputError one of the faults of the archive itself
 */
export function readDirectory(file: Buffer, limits: Limits): Entry[] {
  const directory = findDirectory(file, limits);
  if (directory.entries > limits.archiveEntries) {
    throw overLimit(`the archive has ${directory.entries} entries`, 'archiveEntries', limits);
  }
  const central = readCentral(file, directory, limits);
  refuseSharedNames(central);
  const data = locateData(file, central, directory.start, limits);
  return central.map((entry) => {
    const { name, path, isDirectory, crc32, bytes, method } = entry;
    const packed = data.get(entry) as Buffer;
    return { name, path, isDirectory, isDeflated: method === DEFLATED, crc32, bytes, packed };
  });
}
