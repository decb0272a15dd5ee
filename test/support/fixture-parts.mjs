// @ts-check
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const FIXTURES = fileURLToPath(new URL('../../fixtures/', import.meta.url));

/**
 * All files under a fixture folder, by their path in it, sorted.
 * @param {string} fixture
 * @returns {Record<string, Buffer>}
 */
export function fixtureParts(fixture) {
  const root = join(FIXTURES, fixture);
  const names = /** @type {string[]} */ (readdirSync(root, { recursive: true }))
    .filter((name) => statSync(join(root, name)).isFile())
    .map((name) => name.replaceAll('\\', '/'))
    .sort();
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(root, name))]));
}
