import { rm, writeFile } from 'node:fs/promises';
import { FORMATS, type Format, type FormatName } from '../report/format/index.js';
import { isFileError } from './archive-file.js';
import { CallError } from './usage.js';

/**
 * Refuses to fill a terminal with what is no text, before anything is worked out.
 * @throws CallError
 */
export function refuseTerminal(format: FormatName, out: string | undefined): void {
  const { fileName }: Format = FORMATS[format];
  if (fileName === undefined || out !== undefined || !process.stdout.isTTY) return;
  throw new CallError(`--format ${format} is no text for a terminal; write it to a file: --out ${fileName}`);
}

/** Writes what a command came to into `--out`, else to standard output. */
export async function writeOutput(output: string | Uint8Array, out: string | undefined): Promise<void> {
  if (out === undefined) {
    process.stdout.write(output);
    return;
  }
  try {
    // An older report must not pass for that of an archive that could not be audited.
    if (output.length === 0) await rm(out, { force: true });
    else await writeFile(out, output);
  } catch (cause) {
    throw isFileError(cause) ? new CallError(`--out ${out} cannot be written (${cause.code})`) : cause;
  }
}
