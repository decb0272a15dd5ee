// @ts-check
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

const ERROR_LEVEL = 50; // of the log, as pino numbers them
const STOP_WITHIN_MS = 35_000; // a little more than the service gives itself

/** A service in a process of its own, with a folder for temporary files that nobody else writes to. */
export class Service {
  #folder = mkdtempSync(join(tmpdir(), 'soak-'));
  #unfinished = '';
  /** @type {string | undefined} */
  #port;
  /** What it logged as an error. @type {string[]} */
  errors = [];
  #child;
  #ended;

  /**
   * @param {readonly string[]} command what node runs; it logs where it listens
   * @param {number} stopWithinMs
   */
  constructor(command, stopWithinMs = STOP_WITHIN_MS) {
    this.stopWithinMs = stopWithinMs;
    const env = { ...process.env, TMPDIR: this.#folder };
    this.#child = spawn(process.execPath, command, { stdio: ['ignore', 'ignore', 'pipe'], env });
    this.#child.stderr.on('data', (chunk) => this.#addToLog(chunk));
    this.#ended = once(this.#child, 'exit');
  }

  async port() {
    while (this.#port === undefined) {
      if (this.#child.exitCode !== null) throw new Error(`the service did not start: ${this.errors}`);
      await wait(20);
    }
    return Number(this.#port);
  }

  /** Memory in use, in MiB, as the system counts it. */
  get residentMib() {
    const [, kib = '0'] = /VmRSS:\s+(\d+)/.exec(this.#proc('status')) ?? [];
    return Number(kib) / 1024;
  }

  get peakMib() {
    const [, kib = '0'] = /VmHWM:\s+(\d+)/.exec(this.#proc('status')) ?? [];
    return Number(kib) / 1024;
  }

  get openFiles() {
    return readdirSync(`/proc/${this.#child.pid}/fd`).length;
  }

  /** Processes that it has started and that still run. */
  get children() {
    const threads = readdirSync(`/proc/${this.#child.pid}/task`);
    return threads.flatMap((thread) => this.#proc(`task/${thread}/children`).split(' ')).filter(Boolean);
  }

  get leftFiles() {
    return readdirSync(this.#folder);
  }

  /** Ends the service by SIGTERM; tells what was wrong with its end. @returns {Promise<string | undefined>} */
  async stop() {
    this.#child.kill('SIGTERM');
    const late = AbortSignal.timeout(this.stopWithinMs);
    const onLate = () => this.#child.kill('SIGKILL');
    late.addEventListener('abort', onLate);
    const [code, signal] = await this.#ended;
    late.removeEventListener('abort', onLate);
    return code === 0 ? undefined : `the service ended with ${signal ?? `exit code ${code}`} on SIGTERM`;
  }

  /** Leaves nothing, however the run ended. */
  dispose() {
    this.#child.kill('SIGKILL');
    rmSync(this.#folder, { recursive: true, force: true });
  }

  /** @param {string} name */
  #proc(name) {
    return readFileSync(`/proc/${this.#child.pid}/${name}`, 'utf8');
  }

  /** Of the log, which grows with every request, only what is of use is kept. @param {Buffer} chunk */
  #addToLog(chunk) {
    const lines = (this.#unfinished + chunk).split('\n');
    this.#unfinished = lines.pop() ?? '';
    for (const line of lines) {
      this.#port ??= /listening at http:\/\/127\.0\.0\.1:(\d+)/.exec(line)?.[1];
      if (levelOf(line) >= ERROR_LEVEL) this.errors.push(line);
    }
  }
}

/** @param {string} line */
function levelOf(line) {
  const [, level = '0'] = /^\{"level":(\d+),/.exec(line) ?? [];
  return Number(level);
}
