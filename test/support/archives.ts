import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import JSZip from 'jszip';

export const FIXTURES = fileURLToPath(new URL('../../fixtures/', import.meta.url));

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

/** All files under a fixture folder, by their path in it, sorted. */
export function fixtureParts(fixture: string): Record<string, Buffer> {
  const root = join(FIXTURES, fixture);
  const names = (readdirSync(root, { recursive: true }) as string[])
    .filter((name) => statSync(join(root, name)).isFile())
    .map((name) => name.replaceAll('\\', '/'))
    .sort();
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(root, name))]));
}

export function fixtureArchive(fixture: string): Promise<Buffer> {
  return zip(fixtureParts(fixture));
}
