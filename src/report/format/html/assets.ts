import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

/** What pages of the service begin their style with as well. */
export const BASE_STYLE = read('./base.css');

/** Style and script of the page, which stand in it, as it is one file that is handed over. */
export const STYLE = BASE_STYLE + read('./page-style.css');
export const SCRIPT = read('./page-script.js');

/** As a policy names them. */
export const DIGESTS = { style: digest(STYLE), script: digest(SCRIPT) };

/**
 * What the page may do (Content Security Policy Level 3): nothing but this style and this script, by their digests. So
 * whatever a name held, a browser would run none of it.
 */
export const PAGE_POLICY = `default-src 'none'; style-src ${DIGESTS.style}; script-src ${DIGESTS.script}; base-uri 'none'; form-action 'none'`;

/** A browser makes one kind of line end of them, and takes the digest then. */
function read(name: string): string {
  return readFileSync(new URL(name, import.meta.url), 'utf8').replaceAll('\r\n', '\n');
}

function digest(text: string): string {
  return `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
}
