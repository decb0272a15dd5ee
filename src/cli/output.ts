import { rm, writeFile } from 'node:fs/promises';
import { isFileError } from './archive-file.js';
import { CallError } from './usage.js';

export async function write(text: string, out: string | undefined): Promise<void> {
  if (out === undefined) {
    process.stdout.write(text);
    return;
  }
  try {
    // An older report must not pass for that of an archive that could not be audited.
    if (text === '') await rm(out, { force: true });
    else await writeFile(out, text);
  } catch (cause) {
    throw isFileError(cause) ? new CallError(`--out ${out} cannot be written (${cause.code})`) : cause;
  }
}
