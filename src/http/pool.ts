import { once } from 'node:events';
import type { MessagePort, Worker } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Limits } from '../limits.js';
import type { OnProgress } from '../progress.js';
import { Gate } from './gate.js';
import { RequestError } from './problems.js';
import { ProgressLine } from './progress-line.js';
import type { AuditOutcome, AuditTask } from './worker.js';

/** How many audits run, and how many wait for a thread. */
export interface Load {
  readonly running: number;
  readonly waiting: number;
}

/** Runs audits elsewhere than on the event loop. */
export interface AuditRunner {
  /** Whether all threads have started. */
  isReady(): boolean;
  /** Whether one more audit would be refused. */
  isFull(): boolean;
  load(): Load;
  /**
   * Ends the audit when the signal is aborted, be it waiting or running, and rejects with the signal's reason.
   * @param onProgress told of the progress of an audit that runs
   */
  run(task: AuditTask, signal: AbortSignal, onProgress?: OnProgress): Promise<AuditOutcome>;
  /** Ends the threads. */
  close(): Promise<void>;
}

export interface PoolOptions {
  readonly workerFile: URL;
  readonly limits: Limits;
  /** Told of a thread that fails with no audit on it. */
  readonly onFault: (cause: unknown) => void;
}

/**
 * A pool of worker threads behind a bounded line. The line is ours, since an audit's time counts from when it runs, and
 * the pool does not tell when that is: what enters the pool has a thread, or one that is just being replaced.
 */
export class AuditPool implements AuditRunner {
  readonly #options: PoolOptions;
  readonly #gate: Gate;
  #threads: Piscina<AuditTask, AuditOutcome> | undefined;
  #isReady = false;

  constructor(options: PoolOptions) {
    this.#options = options;
    this.#gate = new Gate(options.limits.auditThreads, options.limits.auditQueue);
  }

  /** Starts the threads, which the first audit does otherwise. */
  start(): Piscina<AuditTask, AuditOutcome> {
    if (this.#threads !== undefined) return this.#threads;
    const { onFault } = this.#options;
    const threads = startThreads(this.#options);
    // A thread that is ended while its memory runs out fails when its audit is no longer known.
    threads.on('error', onFault);
    Promise.all(threads.threads.map(started)).then(() => {
      this.#isReady = true;
    }, onFault);
    this.#threads = threads;
    return threads;
  }

  isReady(): boolean {
    return this.#isReady;
  }

  isFull(): boolean {
    return this.#gate.isFull;
  }

  load(): Load {
    return { running: this.#gate.inside, waiting: this.#gate.waiting };
  }

  async run(task: AuditTask, signal: AbortSignal, onProgress?: OnProgress): Promise<AuditOutcome> {
    if (this.#gate.isFull) throw lineIsFull();
    await this.#gate.enter(signal);
    try {
      return await this.#told(task, signal, onProgress);
    } finally {
      this.#gate.leave();
    }
  }

  async #told(task: AuditTask, signal: AbortSignal, onProgress: OnProgress | undefined): Promise<AuditOutcome> {
    const { limits } = this.#options;
    if (onProgress === undefined) return runWithin(limits, this.start(), task, signal);
    const line = new ProgressLine(onProgress);
    try {
      return await runWithin(limits, this.start(), { ...task, progress: line.port }, signal);
    } finally {
      line.end();
    }
  }

  async close(): Promise<void> {
    await this.#threads?.close();
  }
}

/** A thread has started when it says so, or when it is gone by now together with its audit. */
function started(thread: Worker): Promise<unknown> {
  return Promise.race([once(thread, 'message'), once(thread, 'exit')]);
}

/**
 * Lets a thread load its file by `import`. The pool would by `require`, and node (seen with 20.20) ends the whole process
 * where a thread is ended while it requires a module: a stop, or a client that hangs up, just after the start.
 */
const LOADING = ['--no-experimental-require-module'];

function startThreads({ workerFile, limits }: PoolOptions): Piscina<AuditTask, AuditOutcome> {
  const { auditThreads, auditMemoryMib } = limits;
  return new Piscina({
    filename: workerFile.href,
    minThreads: auditThreads,
    maxThreads: auditThreads,
    maxQueue: auditThreads,
    execArgv: LOADING,
    resourceLimits: { maxOldGenerationSizeMb: auditMemoryMib },
  });
}

/** Runs an audit on a thread. One that takes too long or too much is ended together with its thread. */
async function runWithin(
  limits: Limits,
  threads: Piscina<AuditTask, AuditOutcome>,
  task: AuditTask,
  signal: AbortSignal,
): Promise<AuditOutcome> {
  const time = new AbortController();
  const clock = setTimeout(() => time.abort(tooLong(limits)), limits.auditSeconds * 1000);
  const either = AbortSignal.any([signal, time.signal]);
  try {
    return await threads.run(task, { signal: either, transferList: handedTo(task) });
  } catch (cause) {
    if (either.aborted) throw either.reason;
    throw (cause as NodeJS.ErrnoException).code === 'ERR_WORKER_OUT_OF_MEMORY' ? tooMuch(limits) : cause;
  } finally {
    clearTimeout(clock);
  }
}

/** Handed over to the thread, not copied. */
function handedTo({ files, progress }: AuditTask): (ArrayBuffer | MessagePort)[] {
  const buffers = Object.values(files).map(({ buffer }) => buffer as ArrayBuffer);
  return progress === undefined ? buffers : [...buffers, progress];
}

export function lineIsFull(): RequestError {
  return new RequestError(
    'busy',
    'as many audits are waiting as may (the limit auditQueue); try again in a few seconds',
  );
}

function tooLong({ auditSeconds }: Limits): RequestError {
  return new RequestError(
    'audit-too-long',
    `the audit ran longer than the limit auditSeconds, which is ${auditSeconds}; the same archive would fail again`,
  );
}

function tooMuch({ auditMemoryMib }: Limits): RequestError {
  return new RequestError(
    'audit-too-large',
    `the audit took more memory than the limit auditMemoryMib, which is ${auditMemoryMib}; the same archive would fail again`,
  );
}
