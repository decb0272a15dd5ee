import { readFile, writeFile } from 'node:fs/promises';
import { InputError } from '../errors.js';
import { readWaivers, type Waiver } from '../policy/waivers.js';
import { isFileError } from './archive-file.js';
import { CallError } from './usage.js';

/** A file with one entry, in YAML, with a comment above it. */
export async function newWaiversFile(entry: Waiver, comment: string): Promise<string> {
  return withEntry('waivers: []\n', entry, comment);
}

/**
 * Appends an entry to a file, which need not be there yet; what stands in it stays, comments too.
 * @throws CallError where the file cannot be used, or has an entry for the finding
 */
export async function appendWaiver(file: string, entry: Waiver, comment: string): Promise<void> {
  const source = await textOf(file);
  const text = source.trim() === '' ? newWaiversFile(entry, comment) : appended(source, file, entry, comment);
  try {
    await writeFile(file, await text);
  } catch (cause) {
    throw isFileError(cause) ? new CallError(`${file} cannot be written (${cause.code})`) : cause;
  }
}

async function appended(source: string, file: string, entry: Waiver, comment: string): Promise<string> {
  if ((await waiversOf(source, file)).some(({ fingerprint }) => fingerprint === entry.fingerprint)) {
    throw new CallError(`${file} has an entry for ${entry.fingerprint}; change that one`);
  }
  const text = isJson(source) ? withEntryInJson(source, entry) : await withEntry(source, entry, comment);
  await waiversOf(text, file); // nothing is written that could not be read again
  return text;
}

async function waiversOf(source: string, file: string): Promise<readonly Waiver[]> {
  try {
    return await readWaivers(source, file);
  } catch (cause) {
    throw cause instanceof InputError ? new CallError(cause.message) : cause;
  }
}

/** What stands in a file; of one that is not there, nothing. */
async function textOf(file: string): Promise<string> {
  try {
    return await readFile(file, 'utf8');
  } catch (cause) {
    if (!isFileError(cause)) throw cause;
    if (cause.code === 'ENOENT') return '';
    throw new CallError(`${file} cannot be read (${cause.code})`);
  }
}

function isJson(source: string): boolean {
  try {
    JSON.parse(source);
    return true;
  } catch {
    return false;
  }
}

/** JSON has no comments. */
function withEntryInJson(source: string, entry: Waiver): string {
  const { waivers, ...rest } = JSON.parse(source);
  return `${JSON.stringify({ ...rest, waivers: [...waivers, entry] }, null, 2)}\n`;
}

async function withEntry(source: string, entry: Waiver, comment: string): Promise<string> {
  const { isSeq, parseDocument } = await import('yaml');
  const document = parseDocument(source);
  const list = document.get('waivers');
  if (!isSeq(list)) throw new CallError('the list stands elsewhere than under `waivers`; write it there');
  const node = document.createNode(entry);
  node.commentBefore = ` ${comment}`;
  list.add(node);
  list.flow = false;
  // Lines are not folded anew, and a list stands indented or not as it did.
  return document.toString({ lineWidth: 0, indentSeq: !/^- /m.test(source) });
}
