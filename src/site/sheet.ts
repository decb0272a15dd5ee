import type { z } from 'zod';
import { checkDocument, DocumentError, parseDocument } from '../documents/document.js';
import { list, section } from '../documents/shape.js';
import { InputError } from '../errors.js';
import { checkSheet } from './checks.js';
import { hash, LINE, MOST_ENTRIES, SCHEMA_PLACE, SEGMENT, SUPPLY } from './shapes.js';

/** What a site is like, as a person writes it. */
export const siteSheetSchema = section({
  $schema: SCHEMA_PLACE.optional(),
  archive: hash.optional(),
  lines: list(LINE, 'lines', MOST_ENTRIES)
    .default([])
    .describe('lines with repeaters whose devices the export does not tell apart, and their segments'),
  supplies: list(SUPPLY, 'supplies', MOST_ENTRIES).default([]).describe('what is known of the supplies'),
  segments: list(SEGMENT, 'segments', MOST_ENTRIES).default([]).describe('what is known of the segments'),
}).superRefine(checkSheet);

/** A site sheet that contradicts itself nowhere; its names are not yet held against an archive. */
export interface SiteSheet extends z.infer<typeof siteSheetSchema> {
  /** What errors call the file. */
  readonly name: string;
}

export type SheetLine = SiteSheet['lines'][number];
export type SheetSupply = SiteSheet['supplies'][number];
export type SheetSegment = SiteSheet['segments'][number];

/**
 * Reads a site sheet, in YAML or JSON.
 * @param name what errors call the file
 * @throws InputError `invalid-site-sheet` with path, value and what is allowed for each fault
 */
export async function readSheet(source: string, name: string): Promise<SiteSheet> {
  try {
    return { ...checkDocument(siteSheetSchema, await parseDocument(source)), name };
  } catch (cause) {
    throw cause instanceof DocumentError ? sheetRefusal(cause, name) : cause;
  }
}

/** The refusal of a sheet for its faults. @param name what errors call the file */
export function sheetRefusal({ message }: DocumentError, name: string): InputError {
  return new InputError('invalid-site-sheet', message, { part: name });
}
