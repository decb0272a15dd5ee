import JSZip from 'jszip';
import type { Archive, Part } from '../../src/archive/archive.js';
import { fixtureParts } from './fixture-parts.mjs';

export { FIXTURES, fixtureParts } from './fixture-parts.mjs';

/** A date of its own, so that the same parts always make the same bytes. */
const DATE = new Date('2026-01-01T00:00:00Z');

export interface ZipOptions {
  /** Store instead of deflate. */
  readonly stored?: boolean;
}

/** Zips parts, in the order given. */
export async function zip(
  parts: Readonly<Record<string, string | Uint8Array>>,
  options: ZipOptions = {},
): Promise<Buffer> {
  const archive = new JSZip();
  for (const [name, data] of Object.entries(parts)) {
    archive.file(name, data, { date: DATE, createFolders: false });
  }
  return archive.generateAsync({
    type: 'nodebuffer',
    compression: options.stored ? 'STORE' : 'DEFLATE',
    compressionOptions: { level: 9 },
    platform: 'UNIX',
  });
}

export function fixtureArchive(fixture: string): Promise<Buffer> {
  return zip(fixtureParts(fixture));
}

/** The whole of a part. */
export async function contentOf(archive: Archive, part: Part): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for await (const piece of archive.stream(part)) pieces.push(Buffer.from(piece)); // of use only until the next one
  return Buffer.concat(pieces);
}
