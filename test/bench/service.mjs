// @ts-check
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { Agent, request } from 'node:http';
import { text } from 'node:stream/consumers';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

/**
 * Loads the compiled service: `service.mjs FILE [CONCURRENT [SECONDS [NAME=VALUE…]]]` starts it (with limits, where some
 * are given), keeps that many audits of the file going at once, asks for `/healthz` meanwhile, and prints JSON:
 * time from the start to the first answer and to readiness, audits per second, times of audits and of `/healthz` in ms,
 * longest event loop delay and work of it in ms, greatest resident size of the process with its threads in bytes.
 */
const [file = '', concurrent = '4', seconds = '10', ...limits] = process.argv.slice(2);
const here = (/** @type {string} */ path) => fileURLToPath(new URL(path, import.meta.url));
const agent = new Agent({ keepAlive: true });

/** @param {number} port @param {string} path @param {Buffer} [body] */
async function answerTo(port, path, body) {
  const headers = body && { 'content-type': 'application/zip', 'content-length': body.length };
  const asked = request({
    host: '127.0.0.1',
    port,
    path,
    agent,
    method: body ? 'POST' : 'GET',
    ...(headers && { headers }),
  });
  const [answer] = await once(asked.end(body), 'response');
  answer.resume();
  await once(answer, 'end');
  return answer.statusCode;
}

/** How long it takes. @param {() => Promise<unknown>} step */
async function timed(step) {
  const start = performance.now();
  await step();
  return performance.now() - start;
}

function start() {
  const main = here('../../dist/cli/main.js');
  const options = limits.flatMap((limit) => ['--limit', limit]);
  const args = ['--import', here('loop-delay.mjs'), main, 'serve', '--port', '0', ...options];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe', 'pipe'] });
  let log = '';
  /** @type {Promise<number>} */
  const port = new Promise((resolve, reject) => {
    child.stderr?.on('data', (piece) => {
      log += piece;
      const [, found] = /listening at http:\/\/127\.0\.0\.1:(\d+)/.exec(log) ?? [];
      if (found !== undefined) resolve(Number(found));
    });
    child.once('close', () => reject(new Error(`the service did not start: ${log}`)));
  });
  return { child, port };
}

/** @param {number} port */
async function ready(port) {
  while ((await answerTo(port, '/readyz')) !== 200) await sleep(5);
}

/** Audits until the time is over; times of each. @param {number} port @param {Buffer} archive @param {number} until */
async function auditing(port, archive, until) {
  const times = [];
  while (performance.now() < until) {
    times.push(
      await timed(async () => {
        const status = await answerTo(port, '/v1/audits', archive);
        if (status !== 200) throw new Error(`an audit was answered with ${status}`);
      }),
    );
  }
  return times;
}

/** @param {number} port @param {{ isOver: boolean }} work */
async function watching(port, work) {
  const times = [];
  while (!work.isOver) {
    times.push(await timed(() => answerTo(port, '/healthz')));
    await sleep(20);
  }
  return times;
}

/** @param {number} port @param {Buffer} archive */
async function load(port, archive) {
  const work = { isOver: false };
  const watched = watching(port, work);
  const begun = performance.now();
  const runs = Array.from({ length: Number(concurrent) }, () =>
    auditing(port, archive, begun + Number(seconds) * 1000),
  );
  const audits = (await Promise.all(runs)).flat();
  const took = performance.now() - begun;
  work.isOver = true;
  return { audits, perSecond: audits.length / (took / 1000), health: await watched };
}

/** @param {number[]} times */
function spread(times) {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (/** @type {number} */ share) => Math.round(10 * (sorted[Math.ceil(share * sorted.length) - 1] ?? 0)) / 10;
  return { p50: at(0.5), p95: at(0.95), max: at(1) };
}

/** @param {number | undefined} pid */
function peakBytes(pid) {
  const [, kilobytes] = /VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'latin1')) ?? [];
  return Number(kilobytes) * 1024;
}

const archive = readFileSync(file);
const begun = performance.now();
const { child, port: listening } = start();
const port = await listening;
await answerTo(port, '/healthz');
const startMs = performance.now() - begun;
await ready(port);
const readyMs = performance.now() - begun;
const { audits, perSecond, health } = await load(port, archive);
const peak = peakBytes(child.pid);
const delay = text(/** @type {import('node:stream').Readable} */ (child.stdio[3]));
agent.destroy();
child.kill();
const figures = {
  startMs: Math.round(startMs),
  readyMs: Math.round(readyMs),
  audits: audits.length,
  perSecond: Number(perSecond.toFixed(2)),
  ...spread(audits),
  healthMs: spread(health),
  ...JSON.parse(await delay),
  peakBytes: peak,
};
process.stdout.write(`${JSON.stringify(figures, null, 2)}\n`);
