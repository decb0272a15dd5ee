// @ts-check
import { setTimeout as wait } from 'node:timers/promises';
import { quantile, riseOfFloor } from './figures.mjs';
import { Load } from './load.mjs';
import { mixOf } from './mix.mjs';
import { Service } from './service.mjs';

/**
 * One soak: the service under a mixed load for a while, watched from outside.
 *
 * @typedef {object} SoakOptions
 * @property {readonly string[]} command what node runs as the service
 * @property {number} seconds
 * @property {number} seed
 * @property {boolean} large uploads the large archives as well
 * @property {Partial<typeof BOUNDS>} [bounds]
 * @property {(line: string) => void} [print]
 */

export const BOUNDS = {
  /** An answer that takes longer is one that is lost. */
  answerWithinMs: 120_000,
  /** 99 of 100 questions after the health are answered within. */
  healthMs: 250,
  /** What the floor of memory may rise over the second half of the run, whatever its length: longer runs see more. */
  riseMib: 96,
  /** What may be open more than before the load: the threads of the pool have files of their own. */
  moreFiles: 40,
  /** After the load files may take this long to be closed. */
  settleMs: 5_000,
  stopWithinMs: 35_000,
};

const CLIENTS = 6;
const SAMPLE_MS = 100;
const REPORT_MS = 10_000;

/**
 * @param {SoakOptions} options
 * @returns {Promise<string[]>} the alarms; none is fine
 */
export async function soak(options) {
  const { command, seconds, seed, large, print = () => {} } = options;
  const bounds = { ...BOUNDS, ...options.bounds };
  const kinds = await mixOf({ large });
  const service = new Service(command, bounds.stopWithinMs);
  try {
    const port = await service.port();
    const filesBefore = service.openFiles;
    const load = new Load({ kinds, port, seed, clients: CLIENTS, answerWithinMs: bounds.answerWithinMs });
    const memory = await watched(service, load, seconds, print);
    await load.end();
    const alarms = [...requestAlarms(load, bounds), ...memoryAlarms(memory, bounds)];
    alarms.push(...(await fileAlarms(service, filesBefore, bounds)));
    print(summary(service, load, memory));
    const badEnd = await service.stop();
    return [...alarms, ...service.errors.map((line) => `logged: ${line}`), ...(badEnd ? [badEnd] : [])];
  } finally {
    service.dispose();
  }
}

/**
 * Samples of the memory over the time of the run.
 * @param {Service} service
 * @param {Load} load
 * @param {number} seconds
 * @param {(line: string) => void} print
 */
async function watched(service, load, seconds, print) {
  const memory = [];
  const [start, end] = [Date.now(), Date.now() + seconds * 1000];
  let next = start + REPORT_MS;
  while (Date.now() < end) {
    await wait(SAMPLE_MS);
    memory.push(service.residentMib);
    if (Date.now() < next) continue;
    next += REPORT_MS;
    print(progress(service, load, (Date.now() - start) / 1000));
  }
  return memory;
}

/** @param {Load} load @param {typeof BOUNDS} bounds */
function requestAlarms({ wrong, times }, { healthMs }) {
  const alarms = wrong.length > 0 ? [`${wrong.length} wrong or lost answers, first: ${wrong[0]}`] : [];
  const health = quantile(times.get('health') ?? [], 0.99);
  if (health > healthMs) alarms.push(`health: 99 % within ${health.toFixed()} ms, over ${healthMs} ms`);
  return alarms;
}

/** @param {readonly number[]} memory @param {typeof BOUNDS} bounds */
function memoryAlarms(memory, { riseMib }) {
  const rise = riseOfFloor(memory);
  return rise > riseMib ? [`memory: rose by ${rise.toFixed()} MiB over the second half, over ${riseMib} MiB`] : [];
}

/**
 * Files and connections that stay open, and temporary files that stay, when the load is over.
 * @param {Service} service
 * @param {number} before
 * @param {typeof BOUNDS} bounds
 */
async function fileAlarms(service, before, { moreFiles, settleMs }) {
  const end = Date.now() + settleMs;
  while (service.openFiles > before + moreFiles && Date.now() < end) await wait(SAMPLE_MS);
  const { openFiles, leftFiles } = service;
  const alarms = openFiles > before + moreFiles ? [`files: ${openFiles} open, before the load ${before}`] : [];
  return leftFiles.length > 0 ? [...alarms, `temporary files left: ${leftFiles.slice(0, 5)}`] : alarms;
}

/** @param {Service} service @param {Load} load @param {number} seconds */
function progress(service, { times, wrong }, seconds) {
  const answers = [...times.values()].reduce((sum, { length }) => sum + length, 0);
  const rate = `${(answers / seconds).toFixed(1)} requests/s, ${wrong.length} wrong`;
  const state = `${service.residentMib.toFixed()} MiB, peak ${service.peakMib.toFixed()} MiB, ${service.openFiles} files`;
  return `${seconds.toFixed().padStart(5)} s: ${rate}; ${state}\n${table(times)}`;
}

/** @param {Service} service @param {Load} load @param {readonly number[]} memory */
function summary(service, { times }, memory) {
  const rise = `memory rose by ${riseOfFloor(memory).toFixed(1)} MiB over the second half, peak ${service.peakMib.toFixed()} MiB`;
  return `in all:\n${table(times)}\n${rise}; ${service.openFiles} files open`;
}

/** @param {ReadonlyMap<string, readonly number[]>} times */
function table(times) {
  const rows = [...times].map(([name, values]) => {
    const figures = [0.5, 0.95, 0.99, 1].map((share) => quantile(values, share).toFixed().padStart(7)).join('');
    return `  ${name.padEnd(16)}${String(values.length).padStart(7)}${figures}`;
  });
  return [`  ${'ms'.padEnd(16)}  times    p50    p95    p99    max`, ...rows.sort()].join('\n');
}
