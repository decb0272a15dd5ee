// @ts-check
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { instrument } from './instrument.mjs';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
/** Everything that fuzzing writes. */
export const FOLDER = join(ROOT, '.tmp/fuzz');
const CODE = join(FOLDER, 'code');
/** It has no counters. */
const BULK = 'dist/interchange/xml/bulk.wasm';

/** Nothing of these takes part in an audit. */
const LEFT_OUT = /^(http|cli)\//;
/** They are written into the page as they are. */
const OF_THE_PAGE = ['base.css', 'page-style.css', 'page-script.js'].map((name) => join('report/format/html', name));

/**
 * Writes the compiled service once more, with counters, and what packs archives for tests.
 * @returns {{ edges: number, fileOf: (edge: number) => string, words: Buffer[] }}
 */
export function writeCode() {
  rmSync(CODE, { recursive: true, force: true });
  const from = join(ROOT, 'dist');
  const files = /** @type {string[]} */ (readdirSync(from, { recursive: true })).filter(
    (name) => name.endsWith('.js') && !LEFT_OUT.test(name) && !OF_THE_PAGE.includes(name),
  );
  let edges = 0;
  /** @type {{ until: number, name: string }[]} */
  const ends = [];
  /** @type {Buffer[]} */
  const words = [];
  for (const name of files.sort()) {
    const instrumented = instrument(readFileSync(join(from, name), 'utf8'), edges);
    write(join(CODE, name), instrumented.code);
    edges = instrumented.edges;
    ends.push({ until: edges, name });
    if (/^(archive|interchange)\//.test(name)) words.push(...instrumented.words.filter(({ length }) => length > 0));
  }
  copyFileSync(join(ROOT, 'package.json'), join(FOLDER, 'package.json')); // the code looks for it one folder up
  for (const name of OF_THE_PAGE) write(join(CODE, name), readFileSync(join(from, name)));
  write(join(FOLDER, BULK), readFileSync(join(ROOT, BULK))); // and for this from there
  const packer = readFileSync(join(ROOT, 'test/support/raw-zip.ts'), 'utf8');
  write(
    join(CODE, 'raw-zip.js'),
    ts.transpile(packer, { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2022 }),
  );
  return { edges, words, fileOf: (edge) => ends.find(({ until }) => edge < until)?.name ?? '' };
}

/** @param {string} path @param {string | Uint8Array} code */
function write(path, code) {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, code);
}

/** A module of the code that was written. @param {string} name @returns {Promise<any>} */
export const load = (name) => import(join(CODE, name));
