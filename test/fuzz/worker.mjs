// @ts-check
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parentPort, workerData } from 'node:worker_threads';
import { Random } from '../support/campus/random.mjs';
import { FOLDER, load, writeCode } from './code.mjs';
import { Fuzzer } from './fuzzer.mjs';
import { shortDigest, small } from './inputs.mjs';
import { kindOf, SEEDS, targetOf } from './target.mjs';

/** The fuzzer on a thread of its own, so that an input that hangs it or exhausts it is known to {@link fuzz.mjs}. */
const { seconds, seed, keep, file, shared } = /** @type {import('./fuzz.mjs').Task} */ (workerData);
const KEPT = fileURLToPath(new URL('corpus/', import.meta.url));
const FOUND = join(FOLDER, 'corpus');
/** What the repository holds of inputs. */
const MOST_KEPT_BYTES = 180 * 1024;

const { edges, words, fileOf } = writeCode();
globalThis.edges = new Uint8ClampedArray(edges);
const [audit, errors, report, formats] = await Promise.all(
  ['audit.js', 'errors.js', 'report/report.js', 'report/format/index.js'].map(load),
);
const { DEFAULT_LIMITS } = await load('limits.js');
const { rawZip } = await load('raw-zip.js');
const service = { ...audit, ...errors, ...report, ...formats };
const target = await targetOf({ service, limits: DEFAULT_LIMITS, rawZip });
const fuzzer = new Fuzzer({
  edges: globalThis.edges,
  random: new Random(seed),
  words,
  kindOf,
  target: async (input) => {
    shared.input.set(input);
    shared.state[1] = input.length;
    Atomics.add(shared.state, 0, 1); // a sign of life
    await target(input);
  },
});

const say = (/** @type {object} */ message) => parentPort?.postMessage(message);
try {
  if (file !== undefined) await fuzzer.seed(readFileSync(file));
  else await (keep ? keepSmallest() : fuzz());
  say({ done: true });
} catch (error) {
  say({ finding: /** @type {Error} */ (error).stack });
}

async function fuzz() {
  mkdirSync(FOUND, { recursive: true });
  for (const input of await known()) await fuzzer.seed(input);
  const [start, end] = [performance.now(), performance.now() + seconds * 1000];
  const first = { runs: fuzzer.runs, reached: fuzzer.reached.length };
  let next = start;
  for (let now = start; now < end; now = performance.now()) {
    if (now >= next) {
      next += 5000;
      say({ line: progress((now - start) / 1000, first.runs) });
    }
    const input = await fuzzer.step();
    if (input !== undefined) writeFileSync(join(FOUND, shortDigest(input)), input);
  }
  say({ line: progress(seconds, first.runs) });
  say({
    line: `edges reached by the seeds: ${first.reached}; by fuzzing: ${fuzzer.reached.length - first.reached} more\n${coverage()}`,
  });
}

/** Of all that is known, small inputs first, those that reach an edge that none before them did; into the repository. */
async function keepSmallest() {
  const inputs = (await known()).sort((a, b) => a.length - b.length);
  rmSync(KEPT, { recursive: true, force: true });
  mkdirSync(KEPT, { recursive: true });
  let [kept, bytes] = [0, 0];
  for (const input of inputs) {
    const before = fuzzer.reached.length;
    await fuzzer.seed(input);
    if (fuzzer.reached.length === before || bytes + input.length > MOST_KEPT_BYTES) continue;
    kept++;
    bytes += input.length;
    writeFileSync(join(KEPT, shortDigest(input)), input);
  }
  say({ line: `${kept} of ${inputs.length} inputs kept, ${bytes} bytes\n${coverage()}` });
}

async function known() {
  const read = (/** @type {string} */ folder) => readdirSync(folder).map((name) => readFileSync(join(folder, name)));
  mkdirSync(KEPT, { recursive: true });
  mkdirSync(FOUND, { recursive: true });
  return [...SEEDS, ...(await small()), ...read(KEPT), ...read(FOUND)];
}

/** @param {number} elapsed @param {number} before */
function progress(elapsed, before) {
  const rate = (fuzzer.runs - before) / Math.max(elapsed, 0.001);
  const runs = `${fuzzer.runs} runs, ${elapsed > 0 ? rate.toFixed() : '-'}/s`;
  return `${elapsed.toFixed().padStart(5)} s: ${runs}, cov: ${fuzzer.reached.length} of ${edges} edges, ${fuzzer.kept} inputs`;
}

/** What was reached of each folder. */
function coverage() {
  const reached = new Set(fuzzer.reached);
  /** @type {Map<string, { reached: number, all: number }>} */
  const folders = new Map();
  for (let edge = 0; edge < edges; edge++) {
    const folder = fileOf(edge).split('/').slice(0, -1).join('/') || fileOf(edge);
    const count = folders.get(folder) ?? { reached: 0, all: 0 };
    folders.set(folder, { reached: count.reached + Number(reached.has(edge)), all: count.all + 1 });
  }
  return [...folders].map(([name, count]) => `  ${name.padEnd(20)} ${count.reached} of ${count.all}`).join('\n');
}
