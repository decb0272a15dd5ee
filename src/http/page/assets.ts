import { readFileSync } from 'node:fs';
import { BASE_STYLE } from '../../report/format/html/assets.js';

/** A file that pages load from the service itself. */
export interface Asset {
  readonly mediaType: string;
  readonly body: string;
}

const SCRIPTS = ['main', 'events', 'exchange', 'drop', 'outcome', 'saving', 'words'];

/** By its name. The scripts are compiled from the folder `client`, each to a module of its own. */
export const ASSETS: ReadonlyMap<string, Asset> = new Map([
  ['page.css', { mediaType: 'text/css; charset=utf-8', body: BASE_STYLE + read('page.css') }],
  ['icon.svg', { mediaType: 'image/svg+xml', body: read('icon.svg') }],
  ...SCRIPTS.map(
    (name) => [`${name}.js`, { mediaType: 'text/javascript; charset=utf-8', body: read(`client/${name}.js`) }] as const,
  ),
]);

/** From where the build puts it. */
function read(name: string): string {
  return readFileSync(new URL(`../../../dist/http/page/${name}`, import.meta.url), 'utf8');
}
