import { checkDocument, DocumentError, parseDocument } from '../documents/document.js';
import { InputError } from '../errors.js';
import { type ChangeEntry, changesSchema } from './shapes.js';

/** One change, and where it stands. */
export interface Change extends ChangeEntry {
  /** What errors call one of its values: `changes[2].product`, or the option that says all of it. */
  readonly placeOf: (key: keyof ChangeEntry) => string;
}

/**
 * Reads changes, in YAML or JSON.
 * @param name what errors call the file
 * @throws InputError `invalid-changes` with path, value and what is allowed for each fault
 */
export async function readChanges(source: string, name: string): Promise<Change[]> {
  try {
    const { changes } = checkDocument(changesSchema, await parseDocument(source));
    return changes.map((entry, index) => ({ ...entry, placeOf: (key) => `changes[${index}].${key}` }));
  } catch (cause) {
    throw cause instanceof DocumentError ? new InputError('invalid-changes', cause.message, { part: name }) : cause;
  }
}
