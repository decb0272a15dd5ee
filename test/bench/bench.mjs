// @ts-check

import { execFileSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';

/**
 * `npm run bench [ROUNDS]`: what an audit costs beside the same figures by another language's standard library, and
 * beside bare inflating. See README.md here.
 */
const ROUNDS = Number(process.argv[2] ?? 5);
const LOOP_SECONDS = '3';

const here = (/** @type {string} */ name) => fileURLToPath(new URL(name, import.meta.url));
/** The interpreter itself, as a launcher in front of it would cost time, and its version. */
const [PYTHON = '', PYTHON_VERSION = ''] = execFileSync(
  'python3',
  ['-c', 'import platform, sys; print(sys.executable, platform.python_version(), sep="\\n")'],
  { encoding: 'utf8' },
).split('\n');

/**
 * @typedef {object} Sample what a measurement in a process of its own prints
 * @property {number} ms
 * @property {number} cpuMs
 * @property {number} runs
 * @property {number} peakBytes
 * @property {number} [bytes]
 * @property {number} [topologyBytes]
 * @property {number} [devices]
 * @property {Record<string, number>} [segments]
 * @property {Record<string, number>} [verdicts]
 */

/**
 * @typedef {object} ServiceSample what `service.mjs` prints
 * @property {number} startMs
 * @property {number} readyMs
 * @property {number} perSecond
 * @property {number} p50
 * @property {number} p95
 * @property {{ p95: number, max: number }} healthMs
 * @property {number} loopDelayMs
 * @property {number} loopWorkMs
 * @property {number} peakBytes
 */

/**
 * @param {string} program
 * @param {readonly string[]} args
 */
function run(program, args) {
  return JSON.parse(execFileSync(program, args, { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 }));
}

const node = (/** @type {string[]} */ ...args) => run(process.execPath, [here('measure.mjs'), ...args]);
const python = (/** @type {string[]} */ ...args) => run(PYTHON, [here('extract.py'), ...args]);

/** @type {{ path: string }} */
const campus = node('generate', 'campus');
/** @type {{ path: string }} */
const small = node('generate', 'small');

/** Everything that is measured, by name. @type {Record<string, () => Sample>} */
const MEASURES = {
  audit: () => node('audit', campus.path),
  read: () => node('read', campus.path),
  unpack: () => node('unpack', campus.path),
  extract: () => python(campus.path),
  extractNames: () => python(campus.path, '--names'),
  zlib: () => node('zlib', campus.path),
  zlibStream: () => node('zlibStream', campus.path),
  pythonInflate: () => python(campus.path, '--inflate'),
  smallFirst: () => node('audit', small.path),
  smallFirstExtract: () => python(small.path, '--names'),
  smallLoop: () => node('audit', small.path, LOOP_SECONDS),
  smallLoopExtract: () => python(small.path, '--seconds', LOOP_SECONDS),
  smallLoopNames: () => python(small.path, '--names', '--seconds', LOOP_SECONDS),
};

const AT_ONCE = '4';
const service = (/** @type {string} */ path, /** @type {string} */ seconds) =>
  /** @type {ServiceSample} */ (run(process.execPath, [here('service.mjs'), path, AT_ONCE, seconds]));

/** The service as a whole, by archive. @type {Record<'campus' | 'small', () => ServiceSample>} */
const SERVICES = {
  campus: () => service(campus.path, '8'),
  small: () => service(small.path, '5'),
};

/** All in turn, round after round, so that a slow minute falls on all of them; the first round is not counted. */
function measureAll() {
  /** @type {Record<string, Sample[]>} */
  const samples = {};
  for (let round = 0; round <= ROUNDS; round++) {
    console.error(round === 0 ? 'warm-up' : `round ${round} of ${ROUNDS}`);
    for (const [name, measure] of Object.entries(MEASURES)) {
      const sample = measure();
      if (round > 0) samples[name] = [...(samples[name] ?? []), sample];
    }
    for (const name of /** @type {const} */ (['campus', 'small'])) {
      const sample = SERVICES[name]();
      if (round > 0) served[name].push(sample);
    }
  }
  return samples;
}

/** @param {readonly number[]} values */
function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return ((sorted[(sorted.length - 1) >> 1] ?? 0) + (sorted[sorted.length >> 1] ?? 0)) / 2;
}

/** @type {Record<'campus' | 'small', ServiceSample[]>} */
const served = { campus: [], small: [] };
requireSameFigures();
const samples = measureAll();
const of = (/** @type {string} */ name) => samples[name] ?? [];
const timeOf = (/** @type {Sample} */ { ms, runs }) => ms / runs;
const cpuOf = (/** @type {Sample} */ { cpuMs, runs }) => cpuMs / runs;
const ms = (/** @type {string} */ name) => median(of(name).map(timeOf));
const cpu = (/** @type {string} */ name) => median(of(name).map(cpuOf));
const peak = (/** @type {string} */ name) => Math.max(...of(name).map(({ peakBytes }) => peakBytes)) / 1e6;
/**
 * Ratios are taken within a round: of times by the clock, and of processor times, which a busy machine disturbs less.
 * @param {string} title
 * @param {string} one
 * @param {string} other
 */
function ratioRow(title, one, other) {
  const cells = [timeOf, cpuOf].map((time) => {
    const ratios = of(one).map((sample, index) => time(sample) / time(/** @type {Sample} */ (of(other)[index])));
    return `${median(ratios).toFixed(2)} (${Math.min(...ratios).toFixed(2)}–${Math.max(...ratios).toFixed(2)})`;
  });
  return [title, ...cells];
}

/** @param {readonly (readonly (string | number)[])[]} rows */
function table([head = [], ...rows]) {
  const line = (/** @type {readonly (string | number)[]} */ cells) => `| ${cells.join(' | ')} |`;
  console.log(
    [line(head), line(head.map((_, index) => (index === 0 ? '---' : '---:'))), ...rows.map(line), ''].join('\n'),
  );
}

/** The audit and the yardstick have to agree before their times mean anything. */
function requireSameFigures() {
  for (const [ours, theirs] of [
    [MEASURES.audit?.(), MEASURES.extract?.()],
    [MEASURES.smallFirst?.(), MEASURES.smallFirstExtract?.()],
  ]) {
    const ids = Object.keys({ ...ours?.segments, ...theirs?.segments });
    const different = ids.filter((id) => ours?.segments?.[id] !== theirs?.segments?.[id]);
    if (ours?.devices === theirs?.devices && ids.length > 0 && different.length === 0) continue;
    throw new Error(
      `audit and extract.py differ: ${different.length} of ${ids.length} segments (${different.slice(0, 5)})`,
    );
  }
}

/** @param {string} path */
function packedMb(path) {
  return `${(statSync(path).size / 1e6).toFixed(1)} MB packed`;
}

function printHead() {
  const {
    devices,
    topologyBytes = 0,
    bytes = 0,
    segments = {},
    verdicts = {},
  } = /** @type {Sample} */ (of('audit')[0]);
  const counts = Object.entries(verdicts).map(([name, count]) => `${count} ${name}`);
  const sizes = `${(bytes / 1e6).toFixed(1)} MB read, of these topology ${(topologyBytes / 1e6).toFixed(1)} MB`;
  console.log(`Node ${process.versions.node}, Python ${PYTHON_VERSION}, ${cpus().length} cores; ${ROUNDS} rounds\n`);
  console.log(
    `Campus: ${packedMb(campus.path)}, ${sizes}, ${devices} devices, ${Object.keys(segments).length} segments`,
  );
  console.log(`(${counts.join(', ')})`);
  console.log(`Small: ${packedMb(small.path)}, ${of('smallFirst')[0]?.devices} devices\n`);
}

function printRatios() {
  table([
    ['median (least–greatest)', 'ratio of times', 'ratio of processor times'],
    ratioRow('campus: audit / extract.py', 'audit', 'extract'),
    ratioRow('campus: audit / inflate (node:zlib, whole parts)', 'audit', 'zlib'),
    ratioRow('campus: audit / inflate (node:zlib, streamed)', 'audit', 'zlibStream'),
    ratioRow('campus: audit / inflate (Python zipfile)', 'audit', 'pythonInflate'),
    ratioRow('small, in a loop: audit / extract.py', 'smallLoop', 'smallLoopExtract'),
    ratioRow('small, in a loop: audit / extract.py --names', 'smallLoop', 'smallLoopNames'),
    ratioRow('small, first in its process: audit / extract.py --names', 'smallFirst', 'smallFirstExtract'),
  ]);
}

function printCampus() {
  const { devices = 0, topologyBytes = 0 } = /** @type {Sample} */ (of('audit')[0]);
  const row = (/** @type {string} */ title, /** @type {string} */ name) => {
    const speed = [(topologyBytes / 1e3 / ms(name)).toFixed(1), Math.round((devices * 1000) / ms(name))];
    return [title, Math.round(ms(name)), Math.round(cpu(name)), ...speed, Math.round(peak(name))];
  };
  table([
    ['campus', 'ms', 'CPU ms', 'MB/s of topology', 'devices/s', 'peak MB'],
    row('audit', 'audit'),
    row('extract.py', 'extract'),
    row('inflate, node:zlib, whole parts', 'zlib'),
    row('inflate, node:zlib, streamed', 'zlibStream'),
    row('inflate, Python zipfile', 'pythonInflate'),
  ]);
}

/** By subtraction of the least times, as noise only ever adds. */
function printPhases() {
  const least = (/** @type {string} */ name) => Math.min(...of(name).map(timeOf));
  const [unpack, read, all] = [least('unpack'), least('read'), least('audit')];
  const phases = { 'inflate and CRC': unpack, XML: read - unpack, 'plant, rules, report': all - read };
  table([
    ['phase of the campus audit', 'ms', 'share'],
    ...Object.entries(phases).map(([title, time]) => [title, Math.round(time), `${Math.round((100 * time) / all)} %`]),
  ]);
}

function printSmall() {
  const row = (/** @type {string} */ title, /** @type {string} */ name) => [
    title,
    (1000 / ms(name)).toFixed(1),
    ms(name).toFixed(1),
    Math.round(peak(name)),
  ];
  table([
    ['small', 'per second', 'ms', 'peak MB'],
    row('audit, in a loop', 'smallLoop'),
    row('extract.py, in a loop', 'smallLoopExtract'),
    row('extract.py --names, in a loop', 'smallLoopNames'),
    row('audit, first in its process', 'smallFirst'),
    row('extract.py --names, first in its process', 'smallFirstExtract'),
  ]);
}

/** Times a second, against one process of the yardstick that reads the same archive over and over. */
function printService() {
  const all = [...served.campus, ...served.small];
  const of = (/** @type {ServiceSample[]} */ runs, /** @type {(run: ServiceSample) => number} */ pick) =>
    median(runs.map(pick));
  const row = (/** @type {'campus' | 'small'} */ name, /** @type {string} */ yardstick) => {
    const runs = served[name];
    const perSecond = of(runs, (one) => one.perSecond);
    return [
      name,
      perSecond.toFixed(name === 'campus' ? 2 : 1),
      (perSecond * (ms(yardstick) / 1000)).toFixed(1),
      Math.round(of(runs, (one) => one.p50)),
      Math.round(of(runs, (one) => one.p95)),
      Math.round(Math.max(...runs.map(({ healthMs }) => healthMs.max))),
      Math.round(Math.max(...runs.map(({ loopWorkMs }) => loopWorkMs))),
      Math.round(Math.max(...runs.map(({ peakBytes }) => peakBytes)) / 1e6),
    ];
  };
  table([
    [
      `service, ${AT_ONCE} at once`,
      'per second',
      'times extract.py --names',
      'p50 ms',
      'p95 ms',
      'health max ms',
      'loop work max ms',
      'peak MB',
    ],
    row('campus', 'extractNames'),
    row('small', 'smallLoopNames'),
  ]);
  const [start, ready] = [of(all, (one) => one.startMs), of(all, (one) => one.readyMs)];
  console.log(
    `First answer ${start.toFixed(0)} ms after the start of the process, ready after ${ready.toFixed(0)} ms.\n`,
  );
}

for (const print of [printHead, printRatios, printCampus, printPhases, printSmall, printService]) print();
