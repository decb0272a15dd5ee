// @ts-check
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { FOLDER } from './code.mjs';
import { shortDigest } from './inputs.mjs';

/**
 * `npm run fuzz [SECONDS]`: audits ever new inputs, guided by coverage; the inputs that got further are kept in
 * `.tmp/fuzz/corpus`, from where the next run goes on. Exit 1 with the input's file at the first finding.
 * `npm run fuzz FILE` runs one input; `npm run fuzz keep` puts a small choice of all into `test/fuzz/corpus`.
 *
 * @typedef {object} Task
 * @property {number} seconds
 * @property {number} seed
 * @property {boolean} keep
 * @property {string | undefined} file
 * @property {{ state: Int32Array, input: Uint8Array }} shared a sign of life, and the input that is run: length and bytes
 */

const HANGS_AFTER_MS = 10_000;
const MOST_HEAP_MIB = 1024;
const LARGEST = 1024 * 1024;

const argument = process.argv[2] ?? '60';
const seed = Number(process.env.LINEBUDGET_SEED ?? Math.floor(Math.random() * 2 ** 31));
const shared = {
  state: new Int32Array(new SharedArrayBuffer(8)),
  input: new Uint8Array(new SharedArrayBuffer(LARGEST)),
};
const seconds = Number(argument);
const isFile = Number.isNaN(seconds) && argument !== 'keep';
/** @type {Task} */
const workerData = { seconds, seed, keep: argument === 'keep', file: isFile ? argument : undefined, shared };
console.log(`LINEBUDGET_SEED=${seed}`);
const worker = new Worker(new URL('worker.mjs', import.meta.url), {
  workerData,
  resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MIB },
});

worker.on('message', ({ line, finding, done }) => {
  if (line !== undefined) console.log(line);
  if (finding !== undefined) end(finding);
  if (done) process.exit();
});
worker.on('error', (error) => end(String(error)));

let lastRuns = -1;
setInterval(() => {
  const runs = Atomics.load(shared.state, 0);
  if (runs === lastRuns && runs > 0) end(`an audit takes more than ${HANGS_AFTER_MS / 1000} seconds`);
  lastRuns = runs;
}, HANGS_AFTER_MS);

/** @param {string} finding */
function end(finding) {
  const input = Buffer.from(shared.input.subarray(0, shared.state[1]));
  const file = join(FOLDER, `finding-${shortDigest(input)}`);
  mkdirSync(FOLDER, { recursive: true });
  writeFileSync(file, input);
  console.error(`${finding}\nFINDING npm run fuzz ${file}`);
  process.exit(1);
}
