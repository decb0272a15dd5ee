import { writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { readPlant } from '../audit.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { startingSheet } from '../site/starting-sheet.js';
import { isFileError, readArchive } from './archive-file.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { archiveLimits } from './limit-option.js';
import { CallError, UsageError } from './usage.js';

interface Settings {
  readonly archive: string;
  readonly out: string | undefined;
  readonly limits: Limits;
}

/** `linebudget site-sheet ARCHIVE`: a site sheet to begin with, into a new file or to standard output. */
export async function siteSheetCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = parse(args);
  const text = await sheetFor(settings);
  if (settings.out === undefined) process.stdout.write(text);
  else await writeNew(text, settings.out);
  return EXIT.fine;
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { out: { type: 'string' }, limit: { type: 'string', multiple: true, default: [] } },
  });
  const [archive, ...more] = positionals;
  if (archive === undefined || more.length > 0) throw new UsageError('name one project archive');
  return { archive, out: values.out, limits: archiveLimits(values.limit) };
}

async function sheetFor({ archive: file, limits }: Settings): Promise<string> {
  try {
    const { archive, projects } = await readPlant(await readArchive(file, limits), { limits });
    return startingSheet(projects, archive.sha256);
  } catch (cause) {
    if (cause instanceof InputError) throw new CallError(`${file}: ${cause.message} [${cause.code}]`);
    throw isFileError(cause) ? new CallError(`${file}: the file cannot be read (${cause.code})`) : cause;
  }
}

/** A sheet holds what somebody found out on site, so that one that is there is never written over. */
async function writeNew(text: string, out: string): Promise<void> {
  try {
    await writeFile(out, text, { flag: 'wx' });
  } catch (cause) {
    if (!isFileError(cause)) throw cause;
    if (cause.code !== 'EEXIST') throw new CallError(`--out ${out} cannot be written (${cause.code})`);
    throw new CallError(
      `--out ${out} is there already and may be filled in by hand; name another file, or take this one away first`,
    );
  }
}
